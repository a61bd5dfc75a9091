namespace Drainboard.Domain.Deferrals;

/// <summary>On what a defect may be carried.</summary>
public enum BasisKind
{
    /// <summary>An item of the operator's approved MEL.</summary>
    MelItem,

    /// <summary>An item of the operator's cabin-furnishings list: non-essential equipment and furnishings.</summary>
    CabinItem,

    /// <summary>A limit given in an approved manual.</summary>
    ManualLimit,
}
