namespace Drainboard.Testing.Faults;

/// <summary>What a client asked of one defect.</summary>
public enum OperationKind
{
    /// <summary>Read it: answered with its version and the last correction.</summary>
    Read,

    /// <summary>Added a correction to the version that was seen, and it was done.</summary>
    Written,

    /// <summary>Wanted to, and was told that somebody had been faster.</summary>
    Stale,
}

/// <summary>
/// One operation on one defect as the client saw it. It began before it was sent for the first time and ended when the answer was there, however
/// often it had to be sent in between.
/// </summary>
/// <param name="Key">The defect.</param>
/// <param name="Kind">What it was.</param>
/// <param name="Began">Ticks of this machine's steady clock.</param>
/// <param name="Ended">As above.</param>
/// <param name="Seen">The version that a writer said it had seen; for a read the version that was answered.</param>
/// <param name="Version">The version that was answered; the one seen where it was stale.</param>
/// <param name="Value">The correction that was written, or the last one that was read; empty where there was none.</param>
public sealed record Operation(Guid Key, OperationKind Kind, long Began, long Ended, long Seen, long Version, string Value);
