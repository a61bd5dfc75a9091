namespace Drainboard.Domain.Cards;

/// <summary>What stands against a signature besides the checks: things still disturbed, and required inspections not made.</summary>
/// <param name="Disturbed">Not restored, in words.</param>
/// <param name="Loose">Of these, what is not named as left for a deferral either.</param>
/// <param name="Uninspected">Steps that an authorised second person has yet to inspect, in words.</param>
public sealed record LooseEnds(IReadOnlyList<string> Disturbed, IReadOnlyList<string> Loose, IReadOnlyList<string> Uninspected)
{
    public static LooseEnds None { get; } = new([], [], []);

    /// <summary>Why the item may not be closed without a signature: joined to another, or as entered in error.</summary>
    public Refusal? WhyNotClose() =>
        Disturbed.Count > 0 ? new Refusal("still-disturbed", $"Still disturbed: {string.Join("; ", Disturbed)}. Restore each and say so before the item is closed.") : null;

    /// <param name="jobs">Every job since the last signature: one that was left counts too.</param>
    public static LooseEnds Of(IEnumerable<DisturbedThing> things, params IEnumerable<(WorkCard Card, IReadOnlyList<JobStep> Steps)> jobs)
    {
        var open = things.Where(thing => !thing.IsRestored).ToArray();
        return new LooseEnds(
            [.. open.Select(thing => thing.Title)],
            [.. open.Where(thing => thing.IsLoose).Select(thing => thing.Title)],
            [.. jobs.SelectMany(job => Job.Counting(job.Card, job.Steps).Where(row => row is { NeedsInspection: true, Inspection: null }).Select(row => job.Card.Find(row.Step)!.Words.TrimEnd('.')))]);
    }

    public Refusal? WhyNotRelease() =>
        Disturbed.Count > 0
            ? new Refusal("still-disturbed", $"Still disturbed: {string.Join("; ", Disturbed)}. Restore each and say so before the release.")
        : Uninspected.Count > 0
            ? new Refusal("not-inspected", $"A required inspection is missing: {string.Join("; ", Uninspected)}. An authorised person who did none of the work makes it.")
        : null;

    public Refusal? WhyNotDefer() =>
        Loose.Count > 0 ? new Refusal("still-disturbed", $"Still disturbed: {string.Join("; ", Loose)}. Restore each, or name it as left for the deferral.") : null;
}
