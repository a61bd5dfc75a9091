using NodaTime;

namespace Drainboard.Web.Features.Deferrals;

/// <summary>Every clock of the fleet at one moment: those that run, in the order in which control works, those that wait to begin, by departure, and ended ones of which the authority has yet to be told.</summary>
public sealed record ClocksView(Instant Now, IReadOnlyList<ClockLine> Lines, IReadOnlyList<ClockLine> Awaiting, IReadOnlyList<ClockLine> Notices)
{
    /// <summary>What a list of them holds: those that run; where notices to the authority are asked for, those of ended ones too.</summary>
    public IEnumerable<ClockLine> Listed(ClocksFilter filter) => filter.Of(filter.Shown == ClocksShown.Notice ? Lines.Concat(Notices) : Lines);

    public int Lapsed => Lines.Count(line => line.Clock is { Lapsed: true });

    public int UnderADay => Lines.Count(line => line.Clock is { UnderADay: true });

    public int Stranded => Lines.Count(line => line.Stranded);
}
