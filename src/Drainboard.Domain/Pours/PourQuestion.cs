namespace Drainboard.Domain.Pours;

/// <summary>Something that a person confirms before water is poured.</summary>
public sealed record PourQuestion(string Code, string Words);
