using Drainboard.Domain.Fleet;
using Drainboard.Domain.Reliability;
using Drainboard.Domain.Rectification;
using NodaTime;

namespace Drainboard.Web.Features.Reliability;

/// <summary>One kind of finding at a place, and how often.</summary>
public sealed record FoundCount(Found Found, string Words, int Count);

/// <summary>How often the place was found to be at fault on one tail.</summary>
public sealed record TailCount(string Tail, int Count);

/// <summary>Everything that was found at one place of a layout, over all its tails: a branch, a mast, a strainer.</summary>
/// <param name="Days">When something was found, in days since the window began; only on tails that were there all of it.</param>
/// <param name="Own">The mean cumulative number a tail, here.</param>
/// <param name="Fleet">The same over all places of this kind in the layout, this one included.</param>
/// <param name="Change">Before and after the day that was asked for; null where none was, or one side has nothing to compare.</param>
public sealed record PlaceRepeats(
    string Layout, string Position, string Name, FixtureKind Kind, SnapshotView? Snapshot, StandingLine? Standing, Instant From, double WindowDays, int Tails, IReadOnlyList<double> Days, TrendVerdict Verdict, string TrendWords,
    IReadOnlyList<CumulativeStep> Own, IReadOnlyList<CumulativeStep> Fleet, IReadOnlyList<FoundCount> Found, IReadOnlyList<TailCount> ByTail, ChangeView? Change);
