using Drainboard.Domain.Defects;
using Drainboard.Domain.Fleet;
using Drainboard.Domain.Reliability;
using NodaTime;

namespace Drainboard.Web.Features.Reliability;

/// <summary>One step of a cumulative function, in days since the window began.</summary>
public sealed record CumulativeStep(double Day, int AtRisk, double Mean, double Low, double High)
{
    internal static CumulativeStep Of(MeanCumulativeStep step)
    {
        var limits = step.Limits();
        return new CumulativeStep(step.At, step.AtRisk, step.Mean, limits.Low, limits.High);
    }
}

/// <summary>Before a fix and after it.</summary>
/// <param name="Ratio">After over before; null where there is nothing to divide by.</param>
/// <param name="High">Null where nothing bounds it from above.</param>
public sealed record ChangeView(Instant At, string What, int EventsBefore, double ExposureBefore, int EventsAfter, double ExposureAfter, ExposureUnit Unit, double? Ratio, double Low, double? High, string Words);

/// <summary>Everything about one fixture's write-ups of one kind.</summary>
/// <param name="Days">When its write-ups came, in days since the window began.</param>
/// <param name="WindowDays">How long it was watched.</param>
/// <param name="Fleet">The mean cumulative number of the same position over its layout's tails, this one included.</param>
/// <param name="PartChange">The last change of a part, where another fix followed it.</param>
/// <param name="Line">One line for the technician at the fixture; null with fewer than two write-ups in the window.</param>
public sealed record FixtureRepeats(string Tail, string Layout, string Position, string Name, FixtureKind Kind, SymptomFamily Family, SnapshotView? Snapshot, StandingLine? Standing, Instant From, double WindowDays, IReadOnlyList<double> Days, TrendVerdict Verdict, string TrendWords, IReadOnlyList<CumulativeStep> Fleet, IReadOnlyList<TriedView> Tried, ChangeView? LastChange, ChangeView? PartChange, string? Line);
