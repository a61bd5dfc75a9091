using Drainboard.Data;
using Drainboard.Domain.Records;
using Microsoft.EntityFrameworkCore;
using NodaTime;

namespace Drainboard.Web.Features.Records;

public sealed record EntryView(string Chain, long Number, Instant At, string Kind, Guid Subject, string Words, string? By, string Payload, string PreviousHash, string Hash);

public sealed record Verification(long Chains, long Entries, IReadOnlyList<ChainBreak> Breaks)
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

    /// <summary>Walks every chain from its first entry and compares its end with the head kept beside it.</summary>
    public async Task<Verification> VerifyAsync(CancellationToken stop)
    {
        await using var db = await factory.CreateDbContextAsync(stop);
        var heads = await db.ChainHeads.AsNoTracking().ToArrayAsync(stop);
        var breaks = new List<ChainBreak>();
        long entries = 0;
        foreach (var head in heads)
        {
            var check = new ChainCheck(head.Chain);
            ChainBreak? broken = null;
            await foreach (var entry in db.Record.AsNoTracking().Where(entry => entry.Chain == head.Chain).OrderBy(entry => entry.Number).AsAsyncEnumerable().WithCancellation(stop))
            {
                if ((broken = check.Take(entry)) is not null)
                {
                    break;
                }
            }

            broken ??= check.Entries == head.Number && check.Head == head.Hash ? null : new ChainBreak(head.Chain, check.Entries, "cut-short", $"{head.Chain} ends at entry {check.Entries}, but entry {head.Number} had been written.");
            entries += check.Entries;
            if (broken is not null)
            {
                breaks.Add(broken);
            }
        }

        return new Verification(heads.Length, entries, breaks);
    }
}
