using System.Diagnostics;
using Drainboard.Data;
using Drainboard.Domain;
using Drainboard.Domain.Accounts;
using Drainboard.Domain.Defects;
using Drainboard.Domain.Records;
using Drainboard.Testing;
using Drainboard.Testing.Databases;
using Drainboard.Web.Features.Reliability;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.DependencyInjection;
using NodaTime;

namespace Drainboard.Benchmarks;

/// <summary>Two million write-ups of a thousand tails on PostgreSQL: every flag, rate and rank anew, the page's first answer, and one new write-up.</summary>
internal static class RepeatsScale
{
    private const int Tails = 1000;
    private const int WriteUps = 2_000_000;

    // 200 a tail and year: more than twice what the trade's figures make of the demo.
    private const int Years = 10;
    private static readonly Instant Now = Instant.FromUtc(2026, 11, 25, 14, 5);

    public static async Task<int> RunAsync()
    {
        var (host, reason) = await DrainboardHost.TryStartAsync(DatabaseKind.Postgres, Now, demo: true);
        if (host is null)
        {
            Console.WriteLine(reason);
            return 1;
        }

        await using var running = host;
        await FillAsync(host);
        var maker = host.Services.GetRequiredService<StandingsMaker>();
        for (var round = 1; round <= 3; round++)
        {
            GC.Collect();
            var (started, parts) = (Stopwatch.GetTimestamp(), new List<(string Words, TimeSpan At)>());
            var peak = GC.GetTotalMemory(false);
            var made = await maker.RunAsync(new Direct(words =>
            {
                peak = Math.Max(peak, GC.GetTotalMemory(false));
                if (parts.Count == 0 || !words.StartsWith("Judging", StringComparison.Ordinal))
                {
                    parts.Add((words, Stopwatch.GetElapsedTime(started)));
                }
            }), CancellationToken.None);
            Console.WriteLine($"round {round}: {Stopwatch.GetElapsedTime(started).TotalSeconds:0.0} s, {made!.Tested} tested, {made.Flagged} flagged, heap at most {peak / 1048576} MiB; {string.Join("; ", parts.Select(part => $"{part.Words} from {part.At.TotalSeconds:0.0} s"))}");
        }

        await PageAsync(host);
        await SaveAsync(host);
        return 0;
    }

    private static async Task FillAsync(DrainboardHost host)
    {
        await using var db = await host.Db.CreateDbContextAsync();
        db.Database.SetCommandTimeout(TimeSpan.FromMinutes(20));
        await db.Database.ExecuteSqlRawAsync("""INSERT INTO "Tails" SELECT (jsonb_populate_record(t, jsonb_build_object('Id', gen_random_uuid(), 'Registration', 'QQ-' || upper(substr(md5(t."Registration" || g), 1, 7))))).* FROM "Tails" t, generate_series(1, 41) g""");
        await db.Database.OpenConnectionAsync();
        await db.Database.ExecuteSqlRawAsync("SET enable_nestloop = off; SET session_replication_role = replica");
        await db.Database.ExecuteSqlRawAsync($"""
            CREATE TABLE bench_new AS
            WITH places AS (SELECT "Id", "Layout", row_number() OVER (PARTITION BY "Layout" ORDER BY "Id") - 1 AS n, count(*) OVER (PARTITION BY "Layout") AS total FROM "Tails" LIMIT {Tails}),
                 olds AS (SELECT d."Id", t."Layout" FROM "Defects" d JOIN "Tails" t ON t."Id" = d."Tail" WHERE d."Closure" IN ('Rectified', 'NoFaultFound')),
                 made AS (SELECT o."Id" AS old, o."Layout", random() AS r, row_number() OVER () AS number FROM olds o, generate_series(1, {WriteUps} / (SELECT count(*) FROM olds)::int + 1) g LIMIT {WriteUps})
            SELECT m.old, gen_random_uuid() AS id, p."Id" AS tail, 1000000 + m.number AS number, timestamptz '2026-11-25 14:00Z' - random() * interval '{Years * 365} days' AS at
            FROM made m JOIN places p ON p."Layout" = m."Layout" AND p.n = floor(m.r * p.total)::int
            """);
        await CopyAsync(db, "Defects", """bench_new b JOIN "Defects" o ON o."Id" = b.old""", new() { ["Id"] = "b.id", ["Tail"] = "b.tail", ["Number"] = "b.number", ["RecordedAt"] = "b.at", ["ReceivedAt"] = "b.at", ["SeenAt"] = "b.at", ["ClosedAt"] = "b.at + interval '5 hours'" });
        await CopyAsync(db, "Work", """bench_new b JOIN "Work" o ON o."Defect" = b.old AND o."Outcome" IN ('Rectified', 'NoFaultFound')""", new() { ["Id"] = "gen_random_uuid()", ["Tail"] = "b.tail", ["Defect"] = "b.id", ["CompletedAt"] = "b.at + interval '4 hours'" });
        await CopyAsync(db, "ChainHeads", "\"Tails\" t, (SELECT * FROM \"ChainHeads\" LIMIT 1) o ON CONFLICT DO NOTHING", new() { ["Chain"] = "'tail:' || t.\"Id\"" });
        await db.Database.ExecuteSqlRawAsync("DROP TABLE bench_new");
        await db.Database.ExecuteSqlRawAsync("RESET enable_nestloop; RESET session_replication_role");
        await db.Database.ExecuteSqlRawAsync("VACUUM ANALYZE");
        Console.WriteLine($"{await db.Tails.CountAsync()} tails, {await db.Defects.CountAsync()} write-ups, {await db.Work.CountAsync()} pieces of work");
    }

    /// <summary>Rows like those there are, with other values in some columns.</summary>
    private static async Task CopyAsync(DrainboardDb db, string table, string from, Dictionary<string, string> others)
    {
        var columns = await db.Database.SqlQuery<string>($"SELECT column_name AS \"Value\" FROM information_schema.columns WHERE table_name = {table} AND table_schema = 'public'").ToArrayAsync();
        var names = string.Join(", ", columns.Select(column => $"\"{column}\""));
        var values = string.Join(", ", columns.Select(column => others.GetValueOrDefault(column, $"o.\"{column}\"")));

        // Indexes are made anew afterwards: in random order each row would touch them all.
        var indexes = await db.Database.SqlQuery<string>($"SELECT indexdef || '|' || indexname AS \"Value\" FROM pg_indexes WHERE tablename = {table} AND indexname NOT LIKE 'PK_%'").ToArrayAsync();
        foreach (var index in indexes)
        {
            var drop = $"DROP INDEX \"{index.Split('|')[^1]}\"";
            await db.Database.ExecuteSqlRawAsync(drop);
        }

        var insert = $"INSERT INTO \"{table}\" ({names}) SELECT {values} FROM {from}";
        await db.Database.ExecuteSqlRawAsync(insert);
        foreach (var index in indexes)
        {
            await db.Database.ExecuteSqlRawAsync(index.Split('|')[0]);
        }
    }

    private static async Task PageAsync(DrainboardHost host)
    {
        var repeats = host.Services.GetRequiredService<RepeatsQuery>();
        var first = await TimeAsync(1, () => repeats.ReadAsync(new RepeatsFilter(), 50, CancellationToken.None));
        var all = await TimeAsync(20, () => repeats.ReadAsync(new RepeatsFilter(), 50, CancellationToken.None));
        var flagged = await TimeAsync(20, () => repeats.ReadAsync(new RepeatsFilter(Flagged: true, Layout: "N1"), 50, CancellationToken.None));
        Console.WriteLine($"the page's answer: first {first:0} ms, median {all:0} ms; of one layout, who stands out {flagged:0} ms");
    }

    /// <summary>A whole save of one new write-up with its flag, record entry and change row; against a save with the entry and the change row alone.</summary>
    private static async Task SaveAsync(DrainboardHost host)
    {
        await using var look = await host.Db.CreateDbContextAsync();
        var places = await look.Defects.AsNoTracking().OrderByDescending(defect => defect.RecordedAt).Take(400).Select(defect => new { defect.Tail, defect.Position }).ToArrayAsync();
        var (next, bare) = (0, 0);
        var with = await TimeAsync(300, () => SaveAsync(host, places[next % places.Length].Tail, places[next++ % places.Length].Position));
        var without = await TimeAsync(300, () => SaveAsync(host, places[bare++ % places.Length].Tail, null));
        Console.WriteLine($"a new write-up saved with its flag: median {with:0.00} ms; the same record entry without it {without:0.00} ms");
    }

    private static async Task SaveAsync(DrainboardHost host, Domain.Fleet.TailId tail, Domain.Fleet.Position? position)
    {
        await using var db = await host.Db.CreateDbContextAsync();
        if (position is { } at)
        {
            db.Add(new Defect(new DefectId(NewId.At(Now)), tail, new Sighting(at, Symptom.DrainsSlowly, LeakAnswer.NoneSeen, "", FlightPhase.OnGround, "", Now, null, null), Now));
        }

        await db.SaveAsync(new Writing(Actor.Installation, Now, [new Deed(new Fact(ChainKey.For(tail), "bench", Guid.Empty, "Bench."), Actor.Installation, Now)]), CancellationToken.None);
    }

    private static async Task<double> TimeAsync(int runs, Func<Task> work)
    {
        var times = new double[runs];
        for (var run = 0; run < runs; run++)
        {
            var started = Stopwatch.GetTimestamp();
            await work();
            times[run] = Stopwatch.GetElapsedTime(started).TotalMilliseconds;
        }

        Array.Sort(times);
        return times[runs / 2];
    }

    private sealed class Direct(Action<string> told) : IProgress<string>
    {
        public void Report(string value) => told(value);
    }
}
