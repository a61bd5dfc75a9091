using System.Runtime.CompilerServices;
using Drainboard.Data;
using Drainboard.Domain.Records;
using Microsoft.EntityFrameworkCore;

namespace Drainboard.Web.Features.Records;

/// <summary>A chain line by line, for an outsider.</summary>
public sealed class ExportQuery(IDbContextFactory<DrainboardDb> factory, SealsQuery seals)
{
    public async IAsyncEnumerable<string> ReadAsync(ChainKey chain, [EnumeratorCancellation] CancellationToken stop)
    {
        await using var db = await factory.CreateDbContextAsync(stop);
        yield return ExportedRecord.HeadLine(chain);
        var rows = from entry in db.Record.AsNoTracking()
                   where entry.Chain == chain
                   join signer in db.Signers.AsNoTracking() on new { entry.Chain, Number = entry.Number } equals new { signer.Chain, Number = signer.EntryNumber } into signers
                   from signer in signers.DefaultIfEmpty()
                   orderby entry.Number
                   select new { entry, signer };
        await foreach (var row in rows.AsAsyncEnumerable().WithCancellation(stop))
        {
            yield return ExportedRecord.Line(row.entry, row.signer);
        }

        if (await seals.ReadAsync(stop) is [var newest, ..] && await seals.ProveHeadAsync(newest.Seal, chain, stop) is { } proof)
        {
            yield return CanonicalJson.Write(new Dictionary<string, object> { ["entry"] = proof.Entry, ["leaf"] = proof.Leaf, ["leafIndex"] = proof.LeafIndex, ["leaves"] = proof.Leaves, ["path"] = proof.Path, ["root"] = proof.Root, ["seal"] = (long)proof.Seal });
        }
    }
}
