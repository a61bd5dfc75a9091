namespace Drainboard.Domain;

/// <summary>One line of a result's explanation of itself, and what it rests on: a citation, "common practice" or "our arithmetic".</summary>
public sealed record Explained(string Text, string Source);
