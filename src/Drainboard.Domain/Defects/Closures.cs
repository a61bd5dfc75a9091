namespace Drainboard.Domain.Defects;

/// <summary>What a <see cref="Closure"/> means for counting.</summary>
public static class Closures
{
    /// <summary>Of what counts as a write-up, open ones (null) included: what was joined with another or entered in error does not count; "no fault found" does.</summary>
    public static IReadOnlyList<Closure?> OfWriteUps { get; } = [null, Closure.Rectified, Closure.NoFaultFound];
}
