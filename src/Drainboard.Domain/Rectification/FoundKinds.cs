namespace Drainboard.Domain.Rectification;

/// <summary>What can be learnt from a <see cref="Found"/> (common practice, no source).</summary>
public static class FoundKinds
{
    /// <summary>Something was in the way: neither a failed part nor nothing.</summary>
    public static bool IsBlockage(this Found found) => found is not (Found.FailedPart or Found.Nothing);

    /// <summary>At a galley drain it is there because somebody poured it away. Scale and ice form by themselves.</summary>
    public static bool IsPreventableInGalley(this Found found) => found is Found.Grounds or Found.Food or Found.Fat or Found.Packaging or Found.Paper or Found.ForeignObject;
}
