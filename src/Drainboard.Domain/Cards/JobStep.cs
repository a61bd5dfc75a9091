using Drainboard.Domain.Accounts;
using Drainboard.Domain.Records;
using NodaTime;

namespace Drainboard.Domain.Cards;

/// <summary>One step of a job as it was done. A step done once more is another row with the next <see cref="Turn"/>; the last one counts.</summary>
public sealed class JobStep
{
    private JobStep()
    {
    }

    internal JobStep(JobId job, CardStep step, int turn, StepResult result, StepTerms terms, Actor by, Instant at) =>
        (Job, Step, Turn, Result, Value, Words, Photo, By, ByName, At, NeedsInspection) = (job, step.Key, turn, result, terms.Value, Said(terms), terms.Photo, by.Person, by.Name, at, step.SecondPerson);

    public JobId Job { get; private set; }

    /// <summary>The step's key in the card.</summary>
    public string Step { get; private set; } = "";

    /// <summary>1 for the first time it was done, then 2, 3.</summary>
    public int Turn { get; private set; }

    public StepResult Result { get; private set; }

    /// <summary>What was measured, in the step's unit.</summary>
    public decimal? Value { get; private set; }

    public string Words { get; private set; } = "";

    public string? Photo { get; private set; }

    public PersonId By { get; private set; }

    public string ByName { get; private set; } = "";

    public Instant At { get; private set; }

    public bool NeedsInspection { get; private set; }

    public Signature? Inspection { get; private set; }

    /// <summary>The card's words for this step changed since: it is done anew, and this row is history.</summary>
    public bool IsOutdated { get; private set; }

    internal void Outdate() => IsOutdated = true;

    internal void Inspect(Signature by) => Inspection = by;

    private static string Said(StepTerms terms) => string.Join(" ", new[] { terms.PourWords, terms.Words.Trim() }.Where(words => !string.IsNullOrEmpty(words)));
}
