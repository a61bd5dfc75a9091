using Drainboard.Data;
using Drainboard.Domain.Records;
using Microsoft.EntityFrameworkCore;
using NodaTime;

namespace Drainboard.Web.Features.Records;

public sealed record SealView(int Seal, Instant At, long Leaves, string Root);

/// <summary>That a chain's head is in a seal: hash <paramref name="Leaf"/> as RFC 9162 does, go up by <paramref name="Path"/>, and compare with <paramref name="Root"/>.</summary>
/// <param name="Entry">The chain up to and with this entry is covered: walk its entries to this hash.</param>
public sealed record HeadProof(string Chain, long Entry, string Hash, string Leaf, long LeafIndex, int Seal, long Leaves, string Root, IReadOnlyList<string> Path);

/// <summary>
/// That one entry is in a seal: hash its payload after the previous hash, go on with each of <paramref name="Following"/> to the sealed head, and from there up to the root.
/// </summary>
/// <param name="Following">The payloads of the entries after it, up to and with the sealed head.</param>
public sealed record EntryProof(string Chain, long Number, string PreviousHash, string Payload, string Hash, IReadOnlyList<string> Following, HeadProof Head);

/// <summary>That a later seal only added to an earlier one (RFC 9162 section 2.1.4.2).</summary>
public sealed record GrowthProof(SealView Before, SealView After, IReadOnlyList<string> Path);

/// <summary>Seals and their proofs. All leaves are read: some thousands a year.</summary>
public sealed class SealsQuery(IDbContextFactory<DrainboardDb> factory)
{
    public async Task<IReadOnlyList<SealView>> ReadAsync(CancellationToken stop)
    {
        await using var db = await factory.CreateDbContextAsync(stop);
        return [.. (await db.Seals.AsNoTracking().OrderByDescending(seal => seal.Number).ToArrayAsync(stop)).Select(View)];
    }

    /// <returns>The newest head of a chain that is in this seal; null where there is no such seal or the chain came later.</returns>
    public async Task<HeadProof?> ProveHeadAsync(int number, ChainKey chain, CancellationToken stop)
    {
        await using var db = await factory.CreateDbContextAsync(stop);
        var seal = await db.Seals.AsNoTracking().SingleOrDefaultAsync(row => row.Number == number, stop);
        var heads = seal is null ? [] : await HeadsAsync(db, seal.Leaves, stop);
        return heads.LastOrDefault(head => head.Chain == chain) is not { } head ? null
            : new HeadProof(chain.Value, head.Number, head.Hash, head.Leaf, head.Index, number, seal!.Leaves, seal.Root, Hex(MerkleTree.Inclusion((int)head.Index, heads.Select(one => one.LeafHash()).ToArray())));
    }

    /// <returns>Null where the seal does not cover this entry.</returns>
    public async Task<EntryProof?> ProveEntryAsync(int number, ChainKey chain, long entry, CancellationToken stop)
    {
        if (await ProveHeadAsync(number, chain, stop) is not { } head || entry < 1 || entry > head.Entry)
        {
            return null;
        }

        await using var db = await factory.CreateDbContextAsync(stop);
        var rows = await db.Record.AsNoTracking().Where(row => row.Chain == chain && row.Number >= entry && row.Number <= head.Entry).OrderBy(row => row.Number).ToArrayAsync(stop);
        return rows is [var first, .. var rest] ? new EntryProof(chain.Value, entry, first.PreviousHash, first.Payload, first.Hash, [.. rest.Select(row => row.Payload)], head) : null;
    }

    public async Task<GrowthProof?> ProveGrowthAsync(int from, int to, CancellationToken stop)
    {
        await using var db = await factory.CreateDbContextAsync(stop);
        var seals = await db.Seals.AsNoTracking().Where(seal => seal.Number == from || seal.Number == to).ToDictionaryAsync(seal => seal.Number, stop);
        if (from > to || !seals.TryGetValue(from, out var before) || !seals.TryGetValue(to, out var after))
        {
            return null;
        }

        var heads = await HeadsAsync(db, after.Leaves, stop);
        return new GrowthProof(View(before), View(after), Hex(MerkleTree.Consistency((int)before.Leaves, heads.Select(head => head.LeafHash()).ToArray())));
    }

    /// <summary>Every seal against its heads, every head against its chain, and, where they are given, what was published against what is stored.</summary>
    internal static async Task<IReadOnlyList<ChainBreak>> CheckAsync(DrainboardDb db, IReadOnlyList<PublishedSeal> published, CancellationToken stop)
    {
        var breaks = new List<ChainBreak>();
        var seals = await db.Seals.AsNoTracking().OrderBy(seal => seal.Number).ToArrayAsync(stop);
        var heads = await HeadsAsync(db, long.MaxValue, stop);
        if (seals.Select(seal => seal.WhyBroken(heads)).FirstOrDefault(words => words is not null) is { } broken)
        {
            breaks.Add(new ChainBreak(ChainKey.Operator, 0, "seal", broken));
        }

        foreach (var head in heads)
        {
            var hash = await db.Record.Where(entry => entry.Chain == head.Chain && entry.Number == head.Number).Select(entry => entry.Hash).SingleOrDefaultAsync(stop);
            if (hash != head.Hash)
            {
                breaks.Add(new ChainBreak(head.Chain, head.Number, "sealed-differently", $"Entry {head.Number} of {head.Chain} is not the one that seal {head.Seal} took: {(hash is null ? "it is gone" : "the chain was written anew")}."));
                break;
            }
        }

        var stored = seals.ToDictionary(seal => seal.Number);
        breaks.AddRange(published.Where(one => !stored.TryGetValue(one.Seal, out var seal) || (seal.Leaves, seal.Root) != (one.Leaves, one.Root)).Take(1).Select(one => new ChainBreak(ChainKey.Operator, 0, "published-differently", $"Seal {one.Seal} was published with root {one.Root}; {(stored.TryGetValue(one.Seal, out var seal) ? $"here it is {seal.Root}" : "here there is no such seal")}.")));
        return breaks;
    }

    private static Task<SealedHead[]> HeadsAsync(DrainboardDb db, long leaves, CancellationToken stop) => db.SealedHeads.AsNoTracking().Where(head => head.Index < leaves).OrderBy(head => head.Index).ToArrayAsync(stop);

    private static SealView View(FleetSeal seal) => new(seal.Number, seal.At, seal.Leaves, seal.Root);

    private static string[] Hex(IEnumerable<byte[]> path) => [.. path.Select(Convert.ToHexStringLower)];
}
