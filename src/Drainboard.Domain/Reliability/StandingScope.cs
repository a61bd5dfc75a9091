namespace Drainboard.Domain.Reliability;

/// <summary>What a standing is about.</summary>
public enum StandingScope
{
    /// <summary>One fixture of one tail, by its write-ups of like symptoms, against the same kind on the other tails of its layout.</summary>
    Fixture,

    /// <summary>One place of a layout over all its tails, by what was found there, against the places of its kind in the whole fleet.</summary>
    Place,
}
