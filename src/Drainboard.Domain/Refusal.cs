namespace Drainboard.Domain;

/// <summary>
/// A lawful "no": a stable code of ours for programs, and words for people that say what is missing and what to do.
/// </summary>
public sealed record Refusal(string Code, string Words);
