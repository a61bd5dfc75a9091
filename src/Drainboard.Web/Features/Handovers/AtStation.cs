using Drainboard.Domain;
using Drainboard.Domain.Accounts;
using Drainboard.Domain.Fleet;

namespace Drainboard.Web.Features.Handovers;

internal static class AtStation
{
    /// <summary>A handover, and a shift's plan, are their own station's.</summary>
    public static Refusal? WhyNot(Actor actor, StationCode station) =>
        actor.Stations.Covers(station) ? null : new Refusal("not-your-station", $"This is {station}'s to do; your account covers {actor.Stations}.");
}
