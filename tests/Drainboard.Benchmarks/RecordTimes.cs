using System.Diagnostics;
using System.Security.Cryptography;
using System.Text;
using Drainboard.Data;
using Drainboard.Domain;
using Drainboard.Domain.Accounts;
using Drainboard.Domain.Fleet;
using Drainboard.Domain.Records;
using Drainboard.Testing;
using Drainboard.Testing.Databases;
using Microsoft.EntityFrameworkCore;
using NodaTime;

namespace Drainboard.Benchmarks;

/// <summary>What the sealed record costs: an append against a plain insert of the same row, and a million entries verified against bare SHA-256 of the same bytes.</summary>
internal static class RecordTimes
{
    private const int Appends = 300;
    private const int Entries = 1_000_000;

    public static async Task<int> RunAsync()
    {
        foreach (var kind in Enum.GetValues<DatabaseKind>())
        {
            await AppendAsync(kind);
        }

        Verify();
        return 0;
    }

    // Alternating, so that what else the machine does hits both.
    private static async Task AppendAsync(DatabaseKind kind)
    {
        var (host, reason) = await DrainboardHost.TryStartAsync(kind);
        if (host is null)
        {
            Console.WriteLine($"{kind}: {reason}");
            return;
        }

        await using var running = host;
        var by = await host.ActorAsync("tech");
        var (chain, sealedTimes, plainTimes) = (ChainKey.For(new TailId(NewId.At(host.Clock.GetCurrentInstant()))), new List<double>(), new List<double>());
        await using var entries = await host.Db.CreateDbContextAsync();
        await entries.Database.ExecuteSqlRawAsync("CREATE TABLE \"PlainRecord\" AS SELECT * FROM \"Record\" WHERE 1 = 0");
        for (var at = 0; at < Appends; at++)
        {
            var fact = new Fact(chain, "defect.sorted", Guid.Empty, "Sorted: drains slowly. Looked: no leak.").With("symptom", "DrainsSlowly").With("number", at);
            var now = host.Clock.GetCurrentInstant();
            var watch = Stopwatch.StartNew();
            await using (var db = await host.Db.CreateDbContextAsync())
            {
                await db.SaveAsync(new Writing(by, now, [new Deed(fact, by, now)]), CancellationToken.None);
            }

            sealedTimes.Add(watch.Elapsed.TotalMilliseconds);
            watch.Restart();
            await using (var db = await host.Db.CreateDbContextAsync())
            {
                await using var transaction = await db.Database.BeginTransactionAsync();
                await db.Database.ExecuteSqlAsync($"INSERT INTO \"PlainRecord\" SELECT * FROM \"Record\" WHERE \"Chain\" = {chain.Value} AND \"Number\" = {at + 1}");
                await transaction.CommitAsync();
            }

            plainTimes.Add(watch.Elapsed.TotalMilliseconds);
        }

        var (appended, plain) = (Median(sealedTimes), Median(plainTimes));
        Console.WriteLine(FormattableString.Invariant($"{kind}: append with seal, signer and change row {appended:0.00} ms; plain insert of the same row in its own transaction {plain:0.00} ms (baseline); ratio {appended / plain:0.0}."));
    }

    private static void Verify()
    {
        var (chain, rows, previous) = (ChainKey.For(new TailId(Guid.Empty)), new List<(RecordEntry Entry, RecordSigner Signer)>(Entries), RecordEntry.BeforeFirst);
        var start = Instant.FromUtc(2020, 1, 1, 0, 0);
        for (var number = 1; number <= Entries; number++)
        {
            var salt = $"{number:x32}";
            var entry = RecordEntry.Seal(new Fact(chain, "defect.sorted", Guid.Empty, "Sorted: drains slowly. Looked: no leak.").With("symptom", "DrainsSlowly").With("number", number), number, previous, RecordSigner.HashOf(salt, "Tech Person", "T-100"), start + Duration.FromSeconds(number));
            rows.Add((entry, new RecordSigner(chain, number, default, "Tech Person", "T-100", salt)));
            previous = entry.Hash;
        }

        var watch = Stopwatch.StartNew();
        var check = new ChainCheck(chain);
        foreach (var (entry, signer) in rows)
        {
            if (check.Take(entry, signer) is { } broken)
            {
                throw new InvalidOperationException(broken.Words);
            }
        }

        var walked = watch.Elapsed;
        watch.Restart();
        var sum = 0;
        foreach (var (entry, _) in rows)
        {
            sum += SHA256.HashData(Encoding.UTF8.GetBytes(entry.PreviousHash + entry.Payload))[0];
        }

        var bare = watch.Elapsed;
        Console.WriteLine(FormattableString.Invariant($"Verify {Entries:N0} entries in memory, names and columns included: {walked.TotalSeconds:0.00} s, {Entries / walked.TotalSeconds:N0} entries a second; bare SHA-256 of the same bytes {bare.TotalSeconds:0.00} s (baseline); ratio {walked / bare:0.0}. ({sum & 1})"));
    }

    private static double Median(List<double> all) => all.Order().ElementAt(all.Count / 2);
}
