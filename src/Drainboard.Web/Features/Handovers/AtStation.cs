using Drainboard.Domain;
using Drainboard.Domain.Accounts;
using Drainboard.Domain.Fleet;

namespace Drainboard.Web.Features.Handovers;

internal static class AtStation
{
    /// <summary>A handover is its own station's.</summary>
    public static Refusal? WhyNot(Actor actor, StationCode station) =>
        actor.Stations.Covers(station) ? null : new Refusal("not-your-station", $"This is the handover of {station}; your account covers {actor.Stations}.");
}
