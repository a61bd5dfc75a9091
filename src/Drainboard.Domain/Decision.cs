using Drainboard.Domain.Records;

namespace Drainboard.Domain;

/// <summary>
/// What a rule answers to a wish for change: it is <see cref="Done"/> and this fact goes on record, or it is
/// <see cref="Refused"/> and nothing has changed. An exception from a rule is a bug, never an answer.
/// </summary>
public abstract record Decision
{
    private Decision()
    {
    }

    public sealed record Done(Fact Fact) : Decision;

    public sealed record Refused(Refusal Refusal) : Decision;

    /// <summary>It stands so already, by the same wish of another person or of another page: nothing changes, and nothing goes on record twice.</summary>
    public sealed record AlreadySo(string Words) : Decision;

    public static implicit operator Decision(Fact fact) => new Done(fact);

    public static implicit operator Decision(Refusal refusal) => new Refused(refusal);
}
