using System.Globalization;
using System.Text.Json;
using Drainboard.Domain.Records;
using Drainboard.Domain.Tests.Vectors;

namespace Drainboard.Domain.Tests.Records;

/// <summary>
/// RFC 9162 section 2.1 against the reference set of eight leaves that the test suites of Certificate Transparency use (vector file 17: all
/// roots, 36 inclusion and 36 consistency proofs, six of them published).
/// </summary>
public sealed class MerkleTreeTests
{
    private static readonly JsonElement File17 = Vector.Read("17_merkle");
    private static readonly byte[][] Leaves = [.. File17.GetProperty("leaves_hex").EnumerateArray().Select(leaf => MerkleTree.LeafHash(Convert.FromHexString(leaf.GetString()!)))];

    [Fact]
    public void LeafHash_AndRoot_OfTheReferenceSet_AreThePublished()
    {
        Assert.Equal(Strings(File17.GetProperty("leaf_hashes")), Leaves.Select(Convert.ToHexStringLower));
        Assert.Equal(Strings(File17.GetProperty("roots")), Enumerable.Range(0, 9).Select(size => Convert.ToHexStringLower(MerkleTree.Root(Leaves.AsSpan(0, size)))));
    }

    [Fact]
    public void Inclusion_OfEveryLeafInEveryTree_IsThePublishedAndHolds()
    {
        foreach (var proof in File17.GetProperty("inclusion").EnumerateObject())
        {
            var (index, size) = Pair(proof.Name);
            var made = MerkleTree.Inclusion(index, Leaves.AsSpan(0, size));

            Assert.Equal(Strings(proof.Value), made.Select(Convert.ToHexStringLower));
            Assert.True(MerkleTree.IsIncluded(Leaves[index], index, size, made, MerkleTree.Root(Leaves.AsSpan(0, size))), proof.Name);
        }
    }

    [Fact]
    public void Consistency_OfEveryTwoTrees_IsThePublishedAndHolds()
    {
        foreach (var proof in File17.GetProperty("consistency").EnumerateObject())
        {
            var (before, after) = Pair(proof.Name);
            var made = MerkleTree.Consistency(before, Leaves.AsSpan(0, after));

            Assert.Equal(Strings(proof.Value), made.Select(Convert.ToHexStringLower));
            Assert.True(MerkleTree.IsConsistent(before, after, MerkleTree.Root(Leaves.AsSpan(0, before)), MerkleTree.Root(Leaves.AsSpan(0, after)), made), proof.Name);
        }
    }

    /// <summary>Every single alteration of a proof, an index or a root is found.</summary>
    [Fact]
    public void IsIncluded_AndIsConsistent_WithAnythingAltered_Fail()
    {
        for (var size = 2; size <= Leaves.Length; size++)
        {
            var root = MerkleTree.Root(Leaves.AsSpan(0, size));
            for (var index = 0; index < size; index++)
            {
                var proof = MerkleTree.Inclusion(index, Leaves.AsSpan(0, size));
                Assert.All(Altered(proof), altered => Assert.False(MerkleTree.IsIncluded(Leaves[index], index, size, altered, root)));
                Assert.False(MerkleTree.IsIncluded(Leaves[index], (index + 1) % size, size, proof, root));
                Assert.False(MerkleTree.IsIncluded(Leaves[(index + 1) % size], index, size, proof, root));
            }

            for (var before = 1; before < size; before++)
            {
                var (old, proof) = (MerkleTree.Root(Leaves.AsSpan(0, before)), MerkleTree.Consistency(before, Leaves.AsSpan(0, size)));
                Assert.All(Altered(proof), altered => Assert.False(MerkleTree.IsConsistent(before, size, old, root, altered)));
                Assert.False(MerkleTree.IsConsistent(before, size, root, old, proof));
            }
        }
    }

    [Fact]
    public void Consistency_WithNothingOrWithMore_IsUndefined()
    {
        Assert.Throws<ArgumentOutOfRangeException>(() => MerkleTree.Consistency(0, Leaves));
        Assert.Throws<ArgumentOutOfRangeException>(() => MerkleTree.Consistency(9, Leaves));
        Assert.Throws<ArgumentOutOfRangeException>(() => MerkleTree.Inclusion(8, Leaves));
        Assert.False(MerkleTree.IsConsistent(0, 8, MerkleTree.Empty, MerkleTree.Root(Leaves), []));
    }

    /// <summary>Without the 00 and 01 before leaf and node, a node's bytes could pass for a leaf.</summary>
    [Fact]
    public void LeafHash_OfANodesBytes_IsNotTheNode()
    {
        byte[] bytes = [.. Leaves[0], .. Leaves[1]];

        Assert.NotEqual(MerkleTree.Root(Leaves.AsSpan(0, 2)), MerkleTree.LeafHash(bytes));
    }

    private static IEnumerable<IReadOnlyList<byte[]>> Altered(IReadOnlyList<byte[]> proof)
    {
        for (var at = 0; at < proof.Count; at++)
        {
            byte[][] flipped = [.. proof];
            flipped[at] = [.. proof[at]];
            flipped[at][0] ^= 1;
            yield return flipped;
            yield return [.. proof.Take(at), .. proof.Skip(at + 1)];
        }

        yield return [.. proof, new byte[32]];
    }

    private static (int, int) Pair(string name) => name.Split(',') is [var first, var second] ? (int.Parse(first, CultureInfo.InvariantCulture), int.Parse(second, CultureInfo.InvariantCulture)) : throw new FormatException(name);

    private static IEnumerable<string> Strings(JsonElement list) => list.EnumerateArray().Select(one => one.GetString()!);
}
