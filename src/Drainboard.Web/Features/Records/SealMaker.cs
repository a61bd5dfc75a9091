using System.Text.Json;
using Drainboard.Data;
using Drainboard.Domain.Accounts;
using Drainboard.Domain.Records;
using Microsoft.EntityFrameworkCore;
using NodaTime;
using NodaTime.Text;

namespace Drainboard.Web.Features.Records;

/// <summary>
/// Seals the record once a day (UTC) when it has grown: the heads of all chains that did go into the fleet's Merkle tree, and the new root is
/// published by <see cref="SealPublisher"/>.
/// </summary>
public sealed class SealMaker(IDbContextFactory<DrainboardDb> factory, IClock clock)
{
    /// <returns>The seal made now; null when today's stands already or nothing has grown.</returns>
    public async Task<FleetSeal?> RunAsync(CancellationToken stop)
    {
        await using var db = await factory.CreateDbContextAsync(stop);
        var now = clock.GetCurrentInstant();
        var last = await db.Seals.AsNoTracking().OrderByDescending(seal => seal.Number).FirstOrDefaultAsync(stop);
        if (last is not null && last.At.InUtc().Date >= now.InUtc().Date)
        {
            return null;
        }

        var sealedBefore = await db.SealedHeads.AsNoTracking().OrderBy(head => head.Index).ToListAsync(stop);
        var newest = sealedBefore.GroupBy(head => head.Chain).ToDictionary(chain => chain.Key, chain => chain.Max(head => head.Number));
        var grown = (await db.ChainHeads.AsNoTracking().ToArrayAsync(stop)).Where(head => head.Number > newest.GetValueOrDefault(head.Chain)).OrderBy(head => head.Chain.Value, StringComparer.Ordinal).ToArray();
        if (grown.Length == 0)
        {
            return null;
        }

        var number = (last?.Number ?? 0) + 1;
        var taken = grown.Select((head, at) => new SealedHead(sealedBefore.Count + at, number, head.Chain, head.Number, head.Hash)).ToArray();
        var seal = FleetSeal.Over([.. sealedBefore, .. taken], number, now);
        db.AddRange(taken);
        db.Add(seal);
        try
        {
            await db.SaveAsync(new Writing(Actor.Installation, now, []), stop);
        }
        catch (DbUpdateException failure) when (db.IsDuplicateKey(failure))
        {
            // Another process of this service made today's.
            return null;
        }

        return seal;
    }

    /// <summary>The line of the file: canonical JSON, so that it can be compared by eye and by program.</summary>
    public static string LineOf(FleetSeal seal) => CanonicalJson.Write(new Dictionary<string, object> { ["at"] = InstantPattern.ExtendedIso.Format(seal.At), ["leaves"] = seal.Leaves, ["root"] = seal.Root, ["seal"] = (long)seal.Number });

    /// <exception cref="FormatException">The line is no seal of ours.</exception>
    public static PublishedSeal Parse(string line)
    {
        try
        {
            using var json = JsonDocument.Parse(line);
            return new PublishedSeal(json.RootElement.GetProperty("seal").GetInt32(), json.RootElement.GetProperty("leaves").GetInt64(), json.RootElement.GetProperty("root").GetString() ?? "");
        }
        catch (Exception failure) when (failure is JsonException or KeyNotFoundException or InvalidOperationException)
        {
            throw new FormatException($"\"{line}\" is not a line of {SealPublisher.FileName}.", failure);
        }
    }
}

/// <summary>A seal as it was published outside the database.</summary>
public sealed record PublishedSeal(int Seal, long Leaves, string Root);
