using Drainboard.Data;
using Drainboard.Data.Records;
using Drainboard.Domain.Records;
using Drainboard.Web.Shell;
using Microsoft.EntityFrameworkCore;
using NodaTime;

namespace Drainboard.Web.Features.Records;

public sealed record EntryView(string Chain, long Number, Instant At, string Kind, Guid Subject, string Words, string? By, string Payload, string PreviousHash, string Hash);

/// <param name="Title">The registration of a tail's chain; else the chain's own name.</param>
public sealed record ChainView(string Chain, string Title, long Entries, string Hash);

/// <param name="Compared">How many seals were held against what was published outside the database.</param>
public sealed record Verification(long Chains, long Entries, int Seals, int Compared, IReadOnlyList<ChainBreak> Breaks)
{
    public bool Whole => Breaks.Count == 0;
}

public sealed class RecordQuery(IDbContextFactory<DrainboardDb> factory)
{
    public const int PageSize = 200;

    public async Task<IReadOnlyList<EntryView>> ReadAsync(ChainKey chain, long after, CancellationToken stop)
    {
        await using var db = await factory.CreateDbContextAsync(stop);
        var rows = from entry in db.Record.AsNoTracking()
                   where entry.Chain == chain && entry.Number > after
                   join signer in db.Signers on new { entry.Chain, Number = entry.Number } equals new { signer.Chain, Number = signer.EntryNumber } into signers
                   from signer in signers.DefaultIfEmpty()
                   orderby entry.Number
                   select new { entry, Name = signer!.Name };
        return [.. (await rows.Take(PageSize).ToArrayAsync(stop)).Select(row => new EntryView(row.entry.Chain.Value, row.entry.Number, row.entry.At, row.entry.Kind, row.entry.Subject, row.entry.Words, row.Name, row.entry.Payload, row.entry.PreviousHash, row.entry.Hash))];
    }

    public async Task<IReadOnlyList<ChainView>> ReadChainsAsync(CancellationToken stop)
    {
        await using var db = await factory.CreateDbContextAsync(stop);
        var tails = (await db.Tails.AsNoTracking().ToArrayAsync(stop)).ToDictionary(tail => ChainKey.For(tail.Id), tail => tail.Registration.Value);
        var heads = await db.ChainHeads.AsNoTracking().ToArrayAsync(stop);
        return [.. heads.Select(head => new ChainView(head.Chain.Value, tails.GetValueOrDefault(head.Chain) ?? Times.Capital(head.Chain.Value.Replace(":", " ", StringComparison.Ordinal)), head.Number, head.Hash)).OrderBy(chain => chain.Title, StringComparer.Ordinal)];
    }

    /// <summary>Walks every chain from its first entry, compares its end with the head kept beside it, and checks every seal.</summary>
    /// <param name="published">Seals as they were published outside; each must be stored alike.</param>
    public async Task<Verification> VerifyAsync(CancellationToken stop, IReadOnlyList<PublishedSeal>? published = null)
    {
        await using var db = await factory.CreateDbContextAsync(stop);
        var heads = await db.ChainHeads.AsNoTracking().ToDictionaryAsync(head => head.Chain, stop);
        var chains = await db.Record.AsNoTracking().Select(entry => entry.Chain).Distinct().ToArrayAsync(stop);
        var breaks = new List<ChainBreak>();
        long entries = 0;
        foreach (var chain in chains.Union(heads.Keys))
        {
            var check = new ChainCheck(chain);
            var broken = await WalkAsync(db, chain, check, stop) ?? WhyNotEndsAt(heads.GetValueOrDefault(chain), chain, check);
            entries += check.Entries;
            if (broken is not null)
            {
                breaks.Add(broken);
            }
        }

        breaks.AddRange(await SealsQuery.CheckAsync(db, published ?? [], stop));
        breaks.AddRange(await HandoversAsync(db, stop));
        return new Verification(heads.Count, entries, await db.Seals.CountAsync(stop), published?.Count ?? 0, breaks);
    }

    // What a lead signed is stored beside the chain; the chain holds its hash.
    private static async Task<IReadOnlyList<ChainBreak>> HandoversAsync(DrainboardDb db, CancellationToken stop)
    {
        var breaks = new List<ChainBreak>();
        var texts = (await db.Record.AsNoTracking().Where(entry => entry.Kind == "handover.signed").Select(entry => new { entry.Subject, entry.Payload }).ToArrayAsync(stop)).ToLookup(entry => entry.Subject, entry => entry.Payload);
        await foreach (var handover in db.Handovers.AsNoTracking().OrderBy(handover => handover.SignedAt).AsAsyncEnumerable().WithCancellation(stop))
        {
            if (texts[handover.Id.Value].SingleOrDefault()?.Contains(handover.Content.Hash(), StringComparison.Ordinal) != true)
            {
                breaks.Add(new ChainBreak(ChainKey.For(handover.Station), 0, "handover-differs", $"The handover of {handover.Station} signed {Times.Utc(handover.SignedAt)} is not the one whose hash is on record."));
            }
        }

        return breaks;
    }

    private static async Task<ChainBreak?> WalkAsync(DrainboardDb db, ChainKey chain, ChainCheck check, CancellationToken stop)
    {
        var rows = from entry in db.Record.AsNoTracking()
                   where entry.Chain == chain
                   join signer in db.Signers.AsNoTracking() on new { entry.Chain, Number = entry.Number } equals new { signer.Chain, Number = signer.EntryNumber } into signers
                   from signer in signers.DefaultIfEmpty()
                   orderby entry.Number
                   select new { entry, signer };
        await foreach (var row in rows.AsAsyncEnumerable().WithCancellation(stop))
        {
            if (check.Take(row.entry, row.signer) is { } broken)
            {
                return broken;
            }
        }

        return null;
    }

    private static ChainBreak? WhyNotEndsAt(ChainHead? head, ChainKey chain, ChainCheck check) =>
        check.Entries == (head?.Number ?? 0) && check.Head == (head?.Hash ?? RecordEntry.BeforeFirst)
            ? null
            : new ChainBreak(chain, check.Entries, "cut-short", $"{chain} ends at entry {check.Entries}, but its head says {head?.Number ?? 0}.");
}
