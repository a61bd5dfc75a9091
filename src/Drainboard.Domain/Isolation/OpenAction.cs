namespace Drainboard.Domain.Isolation;

/// <summary>Opening one segment to look and, if it is the one, put it right.</summary>
/// <param name="Probability">That it is this one and no other (single fault).</param>
/// <param name="Minutes">To open, look and close; more than zero or zero.</param>
/// <param name="Access">The panel it lies behind, if any; the first action behind it pays <paramref name="AccessMinutes"/>.</param>
public sealed record OpenAction(string Segment, double Probability, double Minutes, string? Access = null, double AccessMinutes = 0);
