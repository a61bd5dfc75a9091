namespace Drainboard.Domain.Cards;

/// <summary>Where a part or consumable stands.</summary>
public enum PartState
{
    /// <summary>Ordered or looked for; the item waits for it.</summary>
    Awaited,

    /// <summary>Fitted or used up.</summary>
    Fitted,

    /// <summary>No longer of interest: not needed after all, or taken off again.</summary>
    Gone,
}
