namespace Drainboard.Domain.Defects;

/// <summary>The answer to "any leak, and where?". Nobody is given a default.</summary>
public enum LeakAnswer
{
    DidNotLook,
    NoneSeen,
    Leaking,
}
