namespace Drainboard.Domain.Defects;

/// <summary>Where a defect is in its life. Until the certifying signature it is never <see cref="Closed"/> as rectified.</summary>
public enum DefectState
{
    Reported,
    Open,
    Deferred,
    WorkDone,
    Closed,
}
