using Drainboard.Data;
using Drainboard.Testing;
using Drainboard.Testing.Databases;
using Microsoft.EntityFrameworkCore;
using NodaTime;

namespace Drainboard.Benchmarks.Load;

/// <summary>
/// An airline of 1,000 tails at 20 stations on PostgreSQL, made of the demo's: what is to come and what stands is the demo's over and over, at other
/// stations each time; closed write-ups with their work are drawn from the demo's over ten years. Rows go in by SQL; their entries in the record do not exist.
/// </summary>
internal static class LargeFleet
{
    public const int Tails = 1000;
    private const int Years = 10;

    public static readonly Instant Now = Instant.FromUtc(2026, 11, 25, 14, 5);

    /// <returns>The airline with the demo's history, or null and the reason for a skip.</returns>
    public static async Task<(DrainboardHost? Host, string Reason)> TryStartAsync(bool onPort = false)
    {
        var (host, reason) = await DrainboardHost.TryStartAsync(DatabaseKind.Postgres, Now, onPort, demo: true);
        if (host is not null)
        {
            await using var db = await OpenAsync(host);
            await MakeAsync(db);
        }

        return (host, reason);
    }

    /// <summary>Adds closed write-ups with their work until there are so many.</summary>
    public static async Task GrowAsync(DrainboardHost host, int closed)
    {
        await using var db = await OpenAsync(host);
        var more = closed - await db.Defects.CountAsync(defect => defect.Closure != null);
        var drawn = $"""
            CREATE TABLE bench_new AS
            WITH places AS (SELECT "Id", "Layout", row_number() OVER (PARTITION BY "Layout" ORDER BY "Id") - 1 AS n, count(*) OVER (PARTITION BY "Layout") AS total FROM "Tails"),
                 olds AS (SELECT d."Id", t."Layout" FROM "Defects" d JOIN "Tails" t ON t."Id" = d."Tail" WHERE d."Closure" IN ('Rectified', 'NoFaultFound') AND d."Number" < 1000000),
                 made AS (SELECT o."Id" AS old, o."Layout", random() AS r, (SELECT greatest(max("Number"), 1000000) FROM "Defects") + row_number() OVER () AS number FROM olds o, generate_series(1, {more} / (SELECT count(*) FROM olds)::int + 1) g LIMIT {more})
            SELECT m.old, gen_random_uuid() AS id, p."Id" AS tail, m.number, timestamptz '2026-11-24 14:00Z' - random() * interval '{Years * 365} days' AS at
            FROM made m JOIN places p ON p."Layout" = m."Layout" AND p.n = floor(m.r * p.total)::int
            """;
        await db.Database.ExecuteSqlRawAsync(drawn);
        await CopyAsync(db, "Defects", """bench_new b JOIN "Defects" o ON o."Id" = b.old""", new() { ["Id"] = "b.id", ["Tail"] = "b.tail", ["Number"] = "b.number", ["RecordedAt"] = "b.at", ["ReceivedAt"] = "b.at", ["SeenAt"] = "b.at", ["ClosedAt"] = "b.at + interval '5 hours'" });
        await CopyAsync(db, "Work", """bench_new b JOIN "Work" o ON o."Defect" = b.old AND o."Outcome" IN ('Rectified', 'NoFaultFound')""", new() { ["Id"] = "gen_random_uuid()", ["Tail"] = "b.tail", ["Defect"] = "b.id", ["CompletedAt"] = "b.at + interval '4 hours'" });
        await db.Database.ExecuteSqlRawAsync("DROP TABLE bench_new");
        await SettleAsync(db);
        Console.WriteLine($"{await db.Stations.CountAsync()} stations, {await db.Tails.CountAsync()} tails, {await db.Defects.CountAsync()} write-ups, {await db.Work.CountAsync()} pieces of work");
    }

    private static async Task<DrainboardDb> OpenAsync(DrainboardHost host)
    {
        var db = await host.Db.CreateDbContextAsync();
        db.Database.SetCommandTimeout(TimeSpan.FromMinutes(30));
        await db.Database.OpenConnectionAsync();
        await db.Database.ExecuteSqlRawAsync("SET enable_nestloop = off; SET session_replication_role = replica");
        return db;
    }

    // Ids are drawn from the old id and the number of the copy, so that what belongs together still does.
    private static async Task MakeAsync(DrainboardDb db)
    {
        await db.Database.ExecuteSqlRawAsync($$"""
            CREATE FUNCTION bench_id(old uuid, g int) RETURNS uuid LANGUAGE sql IMMUTABLE AS $$ SELECT md5(old::text || g)::uuid $$;
            CREATE TABLE bench_stations AS SELECT 'Q' || substr('QXYZ', k + 1, 1) || substr("Code", 3) AS code, "Code" AS old, 5 * k + row_number() OVER (PARTITION BY k ORDER BY "Code") - 1 AS n FROM "Stations", generate_series(0, 3) k;
            CREATE FUNCTION bench_at(station text, g int) RETURNS text LANGUAGE sql STABLE AS $$ SELECT there.code FROM bench_stations here JOIN bench_stations there ON there.n = (here.n + g) % 20 WHERE here.code = station $$;
            CREATE TABLE bench_tails AS SELECT "Id" AS old, g FROM "Tails", generate_series(1, {{Tails / 24 + 1}}) g ORDER BY g, "Id" LIMIT {{Tails}} - (SELECT count(*) FROM "Tails");
            """);
        await CopyAsync(db, "Stations", "\"Stations\" o JOIN bench_stations b ON b.old = o.\"Code\" WHERE b.n > 4", new() { ["Code"] = "b.code" });
        await CopyAsync(db, "Tails", "\"Tails\" o JOIN bench_tails b ON b.old = o.\"Id\"", new() { ["Id"] = "bench_id(o.\"Id\", b.g)", ["Registration"] = "'QQ-' || upper(substr(md5(o.\"Registration\" || b.g), 1, 7))" });
        foreach (var (table, live) in new (string, string)[]
        {
            ("Turns", "o.\"EstimatedDeparture\" > '2026-11-20'"), ("Sectors", "o.\"OnBlock\" > '2026-11-20'"), ("Defects", "o.\"State\" <> 'Closed'"), ("Deferrals", "o.\"EndedAt\" IS NULL"), ("Disturbed", "o.\"RestoredAt\" IS NULL"), ("Jobs", "o.\"EndedAt\" IS NULL"),
            ("Work", "o.\"Release\" IS NULL AND o.\"ReturnReason\" = ''"), ("Parts", "true"), ("WaterCases", "true"), ("ChecksDone", "true"), ("Pours", "o.\"PouredAt\" > '2026-07-20'"),
        })
        {
            await CopyAsync(db, table, $"\"{table}\" o JOIN bench_tails b ON b.old = o.\"Tail\" WHERE {live}", new()
            {
                ["Id"] = "bench_id(o.\"Id\", b.g)", ["Tail"] = "bench_id(o.\"Tail\", b.g)", ["Defect"] = "bench_id(o.\"Defect\", b.g)", ["Deferral"] = "bench_id(o.\"Deferral\", b.g)", ["Key"] = "b.g || '-' || o.\"Key\"",
                ["Station"] = "bench_at(o.\"Station\", b.g)", ["From"] = table == "Sectors" ? "bench_at(o.\"From\", b.g)" : "o.\"From\"", ["To"] = "bench_at(o.\"To\", b.g)",
            });
        }

        await CopyAsync(db, "ChainHeads", "bench_tails b, (SELECT * FROM \"ChainHeads\" LIMIT 1) o", new() { ["Chain"] = "'tail:' || bench_id(b.old, b.g)" });
        await SettleAsync(db);
    }

    private static Task SettleAsync(DrainboardDb db) => db.Database.ExecuteSqlRawAsync("VACUUM ANALYZE");

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
}
