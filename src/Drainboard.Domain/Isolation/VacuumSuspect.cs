using Drainboard.Domain.Fleet;

namespace Drainboard.Domain.Isolation;

/// <summary>One thing that may be at fault, where it is, and how likely it is the one.</summary>
public sealed record VacuumSuspect(VacuumFault Fault, Fixture At, double Probability, double Minutes)
{
    public string Id => $"{Fault}@{At.Position}";
}
