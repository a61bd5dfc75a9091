namespace Drainboard.Domain.Rectification;

/// <summary>One step of the work as done, in the technician's words.</summary>
public sealed record WorkStep(int Number, string Words);
