namespace Drainboard.Domain.Reliability;

/// <summary>How long a strainer or part ran since it was last clean or new, and whether that ended in a blockage; if not, it was cleaned or is still running (right-censored).</summary>
public readonly record struct Age(double Time, bool Blocked);
