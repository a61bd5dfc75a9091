namespace Drainboard.Domain.Pours;

/// <summary>Where a pour stands to the work: told by the defect it belongs to and the work that stands on that, never asked.</summary>
public enum PourMoment
{
    /// <summary>No defect: a look at how the drain does.</summary>
    Between,

    /// <summary>To find the fault.</summary>
    Before,

    /// <summary>To prove the work: part of its ops check.</summary>
    After,
}
