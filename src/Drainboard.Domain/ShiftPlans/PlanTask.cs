namespace Drainboard.Domain.ShiftPlans;

/// <summary>One item of work: whole minutes, begun and ended inside its window, by one technician who has the skill.</summary>
/// <param name="Weight">What doing it is worth, above zero.</param>
public sealed record PlanTask(string Id, int Minutes, int Weight, string Skill, int WindowFrom, int WindowTo)
{
    /// <summary>Between two tasks on the same stand nobody walks. Empty: a place of its own.</summary>
    public string Stand { get; init; } = "";

    /// <summary>A panel or narrow place that one task has at a time. Empty: none.</summary>
    public string Access { get; init; } = "";

    /// <summary>Tasks that are ended before it begins; without them it is not done.</summary>
    public IReadOnlyList<string> After { get; init; } = [];

    /// <summary>Technicians who may not do it, whatever their skills.</summary>
    public IReadOnlyList<string> Barred { get; init; } = [];

    /// <summary>Who does it if anybody does; null: whoever may.</summary>
    public string? PinnedTo { get; init; }

    /// <summary>When it begins if it is done; null: any time.</summary>
    public int? PinnedAt { get; init; }

    public bool MayBeDoneBy(PlanTechnician technician) =>
        technician.Skills.Contains(Skill) && !Barred.Contains(technician.Id) && (PinnedTo is null || PinnedTo == technician.Id);

    /// <summary>The first and last minute at which this technician could begin it; last before first where there is none.</summary>
    public (int First, int Last) Starts(PlanTechnician technician)
    {
        var (first, last) = (Math.Max(WindowFrom, technician.From), Math.Min(WindowTo, technician.To) - Minutes);
        return PinnedAt is { } at ? (Math.Max(first, at), Math.Min(last, at)) : (first, last);
    }
}
