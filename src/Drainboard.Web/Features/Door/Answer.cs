using Drainboard.Domain;

namespace Drainboard.Web.Features.Door;

/// <summary>What a handler answers: it is done, or why not, in a case of its own for each reason a caller treats differently.</summary>
public abstract record Answer
{
    private Answer()
    {
    }

    /// <param name="Reference">What a person may quote: tail and number of the defect, where there is one.</param>
    public sealed record Done(Guid Id, long Version, string Words, string? Reference = null) : Answer;

    /// <summary>A lawful no: the rules of the work do not allow it as things stand.</summary>
    public sealed record Refused(Refusal Refusal) : Answer;

    /// <summary>This person may not, here.</summary>
    public sealed record NotAllowed(Refusal Refusal) : Answer;

    public sealed record NotFound(string Words) : Answer;

    /// <summary>It changed since the person looked. Nothing was done.</summary>
    public sealed record Stale(long CurrentVersion) : Answer
    {
        public const string Words = "Somebody changed this since you opened it. Nothing of yours is lost: look at what changed, then send again.";
    }

    /// <summary>The sender's id was used before, for another wish.</summary>
    public sealed record OtherWish : Answer
    {
        public const string Words = "This id was used before with other contents. Make a new id for a new wish.";
    }

    public static implicit operator Answer(Refusal refusal) => new Refused(refusal);

    public string? Trouble => this switch
    {
        Done => null,
        Refused refused => refused.Refusal.Words,
        NotAllowed not => not.Refusal.Words,
        NotFound not => not.Words,
        Stale => Stale.Words,
        OtherWish => OtherWish.Words,
        _ => throw new InvalidOperationException($"Unknown answer {GetType().Name}."),
    };
}
