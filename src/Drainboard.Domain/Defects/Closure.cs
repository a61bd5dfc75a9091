namespace Drainboard.Domain.Defects;

/// <summary>The four ways in which a defect ends.</summary>
public enum Closure
{
    Rectified,
    NoFaultFound,
    SameDefect,
    EnteredInError,
}
