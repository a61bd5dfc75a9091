using Drainboard.Domain.Fleet;

namespace Drainboard.Domain.Accounts;

/// <summary>The stations a person works for: every one, or those named. Equality is by the set of codes.</summary>
public sealed class StationScope : IEquatable<StationScope>
{
    private readonly IReadOnlySet<StationCode>? _codes;

    private StationScope(IReadOnlySet<StationCode>? codes) => _codes = codes;

    public static StationScope Every { get; } = new(null);

    public static StationScope Only(params IEnumerable<StationCode> codes) => new(codes.ToHashSet());

    public bool IsEvery => _codes is null;

    public IEnumerable<StationCode> Codes => _codes is null ? [] : _codes.OrderBy(code => code.Value, StringComparer.Ordinal);

    public bool Covers(StationCode station) => _codes is null || _codes.Contains(station);

    public override string ToString() => IsEvery ? "every station" : string.Join(", ", Codes);

    public bool Equals(StationScope? other) =>
        other is not null && (IsEvery ? other.IsEvery : !other.IsEvery && _codes!.SetEquals(other._codes!));

    public override bool Equals(object? obj) => Equals(obj as StationScope);

    public override int GetHashCode() => ToString().GetHashCode(StringComparison.Ordinal);
}
