namespace Drainboard.Domain.Handovers;

/// <summary>One thing handed over.</summary>
/// <param name="Tail">The registration; empty where it is about no aircraft.</param>
/// <param name="Defect">The item; null where it is about none.</param>
/// <param name="What">The fixture, part or thing.</param>
/// <param name="Words">How it stands and why.</param>
public sealed record HandoverLine(string Tail, Guid? Defect, string What, string Words);
