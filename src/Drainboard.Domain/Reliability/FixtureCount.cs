namespace Drainboard.Domain.Reliability;

/// <summary>How many faults one fixture had in its exposure. The id tells it apart from the others.</summary>
public readonly record struct FixtureCount(string Id, int Events, double Exposure);
