using Drainboard.Domain.Defects;
using Drainboard.Domain.Deferrals;
using Drainboard.Domain.Fleet;
using Drainboard.Domain.Records;
using Drainboard.Domain.Rectification;
using Drainboard.Web.Features.Door;
using NodaTime;

namespace Drainboard.Web.Features.Items;

/// <summary>A defect with everything that a decision about it looks at.</summary>
public sealed record Item(Attempt Attempt, Defect Defect, Tail Tail, CabinLayout Layout, Fixture Fixture, Deferral? Deferral, WorkDone? Work, Station? Where, Installation Installation)
{
    /// <summary>The zone of the station that has the aircraft; UTC where nobody knows.</summary>
    public DateTimeZone Zone => Where is { } station ? DateTimeZoneProviders.Tzdb[station.Zone] : DateTimeZone.Utc;

    /// <summary>A running deferral is read under the policy it began with, a new one under the installation's.</summary>
    public DeferralPolicy Policy => Deferral?.Policy ?? (DeferralPolicies.Find(Installation.PolicyName) ?? DeferralPolicies.Us) with { TimeBase = Installation.TimeBase };

    public DateTimeZone ClockZone => Deferral is { } deferral ? DateTimeZoneProviders.Tzdb[deferral.Zone] : Zone;
}
