using Drainboard.Domain.Accounts;
using Drainboard.Domain.Cards;
using Drainboard.Domain.Defects;
using Drainboard.Domain.Deferrals;
using Drainboard.Domain.Fleet;
using Drainboard.Domain.Records;
using Drainboard.Domain.Rectification;
using Drainboard.Web.Features.Door;
using NodaTime;

namespace Drainboard.Web.Features.Items;

/// <summary>A defect with everything that a decision about it looks at.</summary>
/// <param name="Flights">The tail's flights since it was deferred, where its basis counts them; empty otherwise.</param>
public sealed record Item(Attempt Attempt, Defect Defect, Tail Tail, CabinLayout Layout, Fixture Fixture, Deferral? Deferral, IReadOnlyList<ClockSector> Flights, WorkDone? Work, IReadOnlyList<DisturbedThing> Things, Station? Where, Installation Installation)
{
    /// <summary>What is still disturbed; required inspections are asked of the job where there is one.</summary>
    public LooseEnds Disturbed => LooseEnds.Of(Things);

    /// <summary>The zone of the station that has the aircraft; UTC where nobody knows.</summary>
    public DateTimeZone Zone => Where is { } station ? DateTimeZoneProviders.Tzdb[station.Zone] : DateTimeZone.Utc;

    /// <summary>Where and on what somebody signs here.</summary>
    public SigningPlace PlaceFor(bool ownWork) => new(Zone, Where?.Code, Layout.Code, Fixture.Kind, ownWork);
}
