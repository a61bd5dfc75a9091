using System.Security.Cryptography;

namespace Drainboard.Domain.Records;

/// <summary>
/// A Merkle tree over leaves in order (RFC 9162 section 2.1, the hashing of RFC 6962): a leaf hashes as SHA-256(00 and its bytes), a node
/// as SHA-256(01, left, right), split at the largest power of two below the size. With a root in hand anybody can check that an entry is in
/// it, and that a later root only added to it.
/// </summary>
public static class MerkleTree
{
    /// <summary>The root of no leaves: SHA-256 of nothing.</summary>
    public static byte[] Empty { get; } = SHA256.HashData([]);

    public static byte[] LeafHash(ReadOnlySpan<byte> leaf)
    {
        using var hash = IncrementalHash.CreateHash(HashAlgorithmName.SHA256);
        hash.AppendData([0]);
        hash.AppendData(leaf);
        return hash.GetHashAndReset();
    }

    /// <param name="leaves">Leaf hashes, in order.</param>
    public static byte[] Root(ReadOnlySpan<byte[]> leaves) => leaves.Length switch
    {
        0 => Empty,
        1 => leaves[0],
        _ => Node(Root(leaves[..Split(leaves.Length)]), Root(leaves[Split(leaves.Length)..])),
    };

    /// <summary>The hashes that lead from leaf <paramref name="index"/> to the root, from the leaf upwards (RFC 9162 section 2.1.3.1).</summary>
    /// <exception cref="ArgumentOutOfRangeException">There is no such leaf.</exception>
    public static IReadOnlyList<byte[]> Inclusion(int index, ReadOnlySpan<byte[]> leaves)
    {
        ArgumentOutOfRangeException.ThrowIfNegative(index);
        ArgumentOutOfRangeException.ThrowIfGreaterThanOrEqual(index, leaves.Length);
        var proof = new List<byte[]>();
        Lead(index, leaves, proof);
        return proof;
    }

    /// <summary>The hashes that show that the first <paramref name="before"/> leaves are still what they were (RFC 9162 section 2.1.4.1).</summary>
    /// <exception cref="ArgumentOutOfRangeException">Nothing is consistent with no leaves, or with more than there are.</exception>
    public static IReadOnlyList<byte[]> Consistency(int before, ReadOnlySpan<byte[]> leaves)
    {
        ArgumentOutOfRangeException.ThrowIfNegativeOrZero(before);
        ArgumentOutOfRangeException.ThrowIfGreaterThan(before, leaves.Length);
        var proof = new List<byte[]>();
        Grow(before, leaves, whole: true, proof);
        return proof;
    }

    /// <summary>Whether a leaf is in a root, by its proof alone (RFC 9162 section 2.1.3.2).</summary>
    public static bool IsIncluded(byte[] leafHash, long index, long size, IReadOnlyList<byte[]> proof, byte[] root)
    {
        if (index < 0 || index >= size)
        {
            return false;
        }

        var (at, last, hash) = (index, size - 1, leafHash);
        foreach (var sibling in proof)
        {
            if (last == 0)
            {
                return false;
            }

            if ((at & 1) == 1 || at == last)
            {
                hash = Node(sibling, hash);
                while ((at & 1) == 0 && at != 0)
                {
                    (at, last) = (at >> 1, last >> 1);
                }
            }
            else
            {
                hash = Node(hash, sibling);
            }

            (at, last) = (at >> 1, last >> 1);
        }

        return last == 0 && hash.AsSpan().SequenceEqual(root);
    }

    /// <summary>Whether a later root only added to an earlier one, by the proof alone (RFC 9162 section 2.1.4.2).</summary>
    public static bool IsConsistent(long before, long after, byte[] rootBefore, byte[] rootAfter, IReadOnlyList<byte[]> proof)
    {
        if (before <= 0 || before > after)
        {
            return false;
        }

        if (before == after)
        {
            return proof.Count == 0 && rootBefore.AsSpan().SequenceEqual(rootAfter);
        }

        // An earlier tree that was whole is itself the first step.
        IReadOnlyList<byte[]> path = (before & (before - 1)) == 0 ? [rootBefore, .. proof] : proof;
        if (path.Count == 0)
        {
            return false;
        }

        var (at, last) = (before - 1, after - 1);
        while ((at & 1) == 1)
        {
            (at, last) = (at >> 1, last >> 1);
        }

        var (old, grown) = (path[0], path[0]);
        foreach (var step in path.Skip(1))
        {
            if (last == 0)
            {
                return false;
            }

            if ((at & 1) == 1 || at == last)
            {
                (old, grown) = (Node(step, old), Node(step, grown));
                while ((at & 1) == 0 && at != 0)
                {
                    (at, last) = (at >> 1, last >> 1);
                }
            }
            else
            {
                grown = Node(grown, step);
            }

            (at, last) = (at >> 1, last >> 1);
        }

        return last == 0 && old.AsSpan().SequenceEqual(rootBefore) && grown.AsSpan().SequenceEqual(rootAfter);
    }

    private static void Lead(int index, ReadOnlySpan<byte[]> leaves, List<byte[]> proof)
    {
        if (leaves.Length == 1)
        {
            return;
        }

        var split = Split(leaves.Length);
        if (index < split)
        {
            Lead(index, leaves[..split], proof);
            proof.Add(Root(leaves[split..]));
        }
        else
        {
            Lead(index - split, leaves[split..], proof);
            proof.Add(Root(leaves[..split]));
        }
    }

    private static void Grow(int before, ReadOnlySpan<byte[]> leaves, bool whole, List<byte[]> proof)
    {
        if (before == leaves.Length)
        {
            if (!whole)
            {
                proof.Add(Root(leaves));
            }

            return;
        }

        var split = Split(leaves.Length);
        if (before <= split)
        {
            Grow(before, leaves[..split], whole, proof);
            proof.Add(Root(leaves[split..]));
        }
        else
        {
            Grow(before - split, leaves[split..], false, proof);
            proof.Add(Root(leaves[..split]));
        }
    }

    /// <summary>The largest power of two below a size of two or more.</summary>
    private static int Split(int size) => 1 << (31 - System.Numerics.BitOperations.LeadingZeroCount((uint)(size - 1)));

    private static byte[] Node(byte[] left, byte[] right)
    {
        Span<byte> bytes = stackalloc byte[65];
        bytes[0] = 1;
        left.CopyTo(bytes[1..]);
        right.CopyTo(bytes[33..]);
        return SHA256.HashData(bytes);
    }
}
