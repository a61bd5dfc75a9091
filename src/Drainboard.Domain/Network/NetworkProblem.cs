namespace Drainboard.Domain.Network;

/// <summary>
/// Which stay takes which item, with what stations have: first as few late as can be, then the most points. The number that is late is never
/// traded against points.
/// </summary>
/// <param name="Capacities">Minutes by name; what draws on a name that is not here cannot be planned.</param>
public sealed record NetworkProblem(IReadOnlyList<NetworkItem> Items, IReadOnlyDictionary<string, int> Capacities)
{
    /// <summary>Points lost for an item that is moved from the stay that people were told of (our choice).</summary>
    public const int MoveCost = 4;

    /// <summary>For items of a plan that was given out, the stay that was told.</summary>
    public IReadOnlyDictionary<string, string> Told { get; init; } = new Dictionary<string, string>();

    public int PointsOf(NetworkItem item, int option) =>
        item.PointsOf(option) - (Told.TryGetValue(item.Id, out var told) && told != item.Options[option].Stay ? MoveCost : 0);
}
