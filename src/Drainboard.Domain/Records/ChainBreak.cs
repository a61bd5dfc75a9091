namespace Drainboard.Domain.Records;

/// <summary>Where a chain first fails to hold, and in what way, in words.</summary>
public sealed record ChainBreak(ChainKey Chain, long Number, string Kind, string Words);
