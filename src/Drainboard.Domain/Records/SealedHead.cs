using System.Text;

namespace Drainboard.Domain.Records;

/// <summary>
/// The head of one chain as a seal took it: a leaf of the fleet's Merkle tree. Leaves are only ever added, one for each chain that has grown
/// since the seal before.
/// </summary>
public sealed class SealedHead
{
    private SealedHead()
    {
    }

    public SealedHead(long index, int seal, ChainKey chain, long number, string hash) => (Index, Seal, Chain, Number, Hash) = (index, seal, chain, number, hash);

    /// <summary>Place among all leaves, from 0.</summary>
    public long Index { get; private set; }

    /// <summary>The seal that took it.</summary>
    public int Seal { get; private set; }

    public ChainKey Chain { get; private set; }

    /// <summary>The newest entry of the chain then, and its hash.</summary>
    public long Number { get; private set; }

    public string Hash { get; private set; } = "";

    /// <summary>What the leaf is the hash of: canonical JSON of chain, hash and number.</summary>
    public string Leaf => CanonicalJson.Write(new Dictionary<string, object> { ["chain"] = Chain.Value, ["hash"] = Hash, ["number"] = Number });

    public byte[] LeafHash() => MerkleTree.LeafHash(Encoding.UTF8.GetBytes(Leaf));
}
