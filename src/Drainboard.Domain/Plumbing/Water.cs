namespace Drainboard.Domain.Plumbing;

/// <summary>Which of the two plumbing graphs a connection belongs to.</summary>
public enum Water
{
    /// <summary>Potable water, from a tank to taps, coffee makers and toilet rinse.</summary>
    Supply,

    /// <summary>Grey water and waste, from sinks, basins and toilets down to a mast or a tank.</summary>
    Drainage,
}
