using Drainboard.Domain.Fleet;

namespace Drainboard.Domain.Records;

/// <summary>Names one chain of the record: a tail's, a station's, or the operator's own. Equality is ordinal.</summary>
public readonly record struct ChainKey
{
    private ChainKey(string value) => Value = value;

    public string Value { get => field ?? ""; }

    public static ChainKey Operator { get; } = new("operator");

    public static ChainKey For(TailId tail) => new($"tail:{tail.Value}");

    public static ChainKey For(StationCode station) => new($"station:{station}");

    /// <summary>A key as it was stored. Nothing is checked: an unknown chain is simply another chain.</summary>
    public static ChainKey Stored(string value) => new(value);

    public override string ToString() => Value;
}
