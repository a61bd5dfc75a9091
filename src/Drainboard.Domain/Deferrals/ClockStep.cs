namespace Drainboard.Domain.Deferrals;

/// <summary>One line of a clock's explanation of itself, and what it rests on.</summary>
public sealed record ClockStep(string Text, string Source);
