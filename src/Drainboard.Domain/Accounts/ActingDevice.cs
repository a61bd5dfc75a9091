namespace Drainboard.Domain.Accounts;

/// <summary>The enrolled device that a person works at: kept beside who they are, never instead of it.</summary>
public sealed record ActingDevice(Guid Id, string Name);
