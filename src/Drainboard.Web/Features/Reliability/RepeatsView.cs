using Drainboard.Domain.Defects;
using Drainboard.Domain.Fleet;
using Drainboard.Domain.Reliability;
using NodaTime;

namespace Drainboard.Web.Features.Reliability;

/// <summary>The snapshot that everything shown is of.</summary>
public sealed record SnapshotView(int Number, Instant At, Instant From, ExposureUnit Unit, int Tested, int Flagged, int TailsLeftOut)
{
    internal static SnapshotView Of(StandingSnapshot snapshot) => new(snapshot.Number, snapshot.At, snapshot.From, snapshot.Unit, snapshot.Tested, snapshot.Flagged, snapshot.TailsLeftOut);
}

/// <summary>One standing. Rates are for a thousand of the snapshot's unit.</summary>
/// <param name="Tail">Null for a place of a layout.</param>
/// <param name="TimesRest">How many times the rate of the rest of its fleet; null where the rest has no fault.</param>
/// <param name="AtLeast">The lower end of that, at 95 %.</param>
/// <param name="Excess">What the list is ordered by: how many times its fleet's rate its true rate is, with a chance of 95 %.</param>
/// <param name="Reason">The same in a sentence.</param>
public sealed record StandingLine(int Rank, StandingScope Scope, string? Tail, string Layout, string Position, string Name, FixtureKind Kind, SymptomFamily? Family, int Events, double Exposure, double RatePerThousand, double LowPerThousand, double HighPerThousand, double FleetPerThousand, double? TimesRest, double AtLeast, double PWorse, double PAdjusted, double Excess, bool Flagged, string Reason);

/// <param name="Snapshot">Null until the first was made.</param>
/// <param name="Count">How many are like the filter.</param>
public sealed record RepeatsView(SnapshotView? Snapshot, IReadOnlyList<StandingLine> Lines, int Count, IReadOnlyList<string> Layouts);
