using NodaTime;

namespace Drainboard.Domain.Records;

/// <summary>
/// The whole record at one moment in 32 bytes: the Merkle root over every head ever sealed. Once it is known outside the database, nothing
/// that it covers can be altered unseen.
/// </summary>
public sealed class FleetSeal
{
    private FleetSeal()
    {
    }

    private FleetSeal(int number, Instant at, long leaves, string root) => (Number, At, Leaves, Root) = (number, at, leaves, root);

    public int Number { get; private set; }

    public Instant At { get; private set; }

    /// <summary>How many leaves it is over.</summary>
    public long Leaves { get; private set; }

    /// <summary>Lower-case hex.</summary>
    public string Root { get; private set; } = "";

    /// <param name="all">Every leaf so far, in order, those of this seal at the end.</param>
    public static FleetSeal Over(IReadOnlyList<SealedHead> all, int number, Instant at) => new(number, at, all.Count, RootOf(all));

    /// <summary>What is wrong with it when its own leaves are at hand, or null.</summary>
    public string? WhyBroken(IReadOnlyList<SealedHead> all) =>
        all.Count < Leaves ? $"Seal {Number} is over {Leaves} heads, but only {all.Count} are stored: some were removed."
        : RootOf([.. all.Take((int)Leaves)]) != Root ? $"Seal {Number} does not follow from the heads stored with it: one of them was changed."
        : null;

    private static string RootOf(IReadOnlyList<SealedHead> heads) => Convert.ToHexStringLower(MerkleTree.Root([.. heads.Select(head => head.LeafHash())]));
}
