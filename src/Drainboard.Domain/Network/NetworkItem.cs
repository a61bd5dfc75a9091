namespace Drainboard.Domain.Network;

/// <summary>An item that lapses unless one of these stays takes it. Without options it is late whatever is planned.</summary>
/// <param name="Options">In order of time, each stay once.</param>
public sealed record NetworkItem(string Id, IReadOnlyList<NetworkOption> Options)
{
    /// <summary>Points for each later stay that could still take it should this one fail (our choice).</summary>
    public const int Spare = 5;

    /// <summary>More stays to fall back on are worth nothing more.</summary>
    public const int MostSpares = 2;

    /// <summary>Points lost for each day that it is left undone (our choice).</summary>
    public const int Wait = 2;

    /// <summary>What planning it for one of its stays is worth beside being in time: the chance in percent, something for stays to fall back on, less for waiting.</summary>
    public int PointsOf(int option) => (int)Math.Round(100 * Options[option].Chance) + (Spare * Math.Min(MostSpares, Options.Count - 1 - option)) - (Wait * Options[option].Days);
}
