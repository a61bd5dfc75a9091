namespace Drainboard.Domain.Isolation;

/// <summary>What can keep vacuum toilets from flushing.</summary>
public enum VacuumFault
{
    ForeignObject,
    Controller,
    FlushValve,
    Rinse,
    NothingFound,
    Line,
    TankFull,
    FalseFull,
    ServiceValve,
    Generator,
}
