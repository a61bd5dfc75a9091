namespace Drainboard.Domain.Deferrals;

/// <summary>Where one field of a policy comes from and how far it was checked ("read", "second-hand", "from memory", "our choice", "the operator", "set by operator").</summary>
public sealed record PolicySource(string Field, string Source, string Verification);
