using System.Diagnostics;
using Drainboard.Domain;
using Drainboard.Domain.Accounts;
using Drainboard.Domain.Defects;
using Drainboard.Domain.Deferrals;
using Drainboard.Domain.Records;
using Drainboard.Testing;
using Drainboard.Testing.Databases;
using Drainboard.Web.Features.Deferrals;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.DependencyInjection;
using NodaTime;

namespace Drainboard.Benchmarks;

/// <summary>The controller's list with 5,000 running deferrals: a whole reading against hand-written SQL that reads the same rows in order of due time, and the heap of each open page.</summary>
internal static class ClocksPageTimes
{
    private const int Many = 5000;
    private const int Reads = 15;

    public static async Task<int> RunAsync()
    {
        foreach (var kind in Enum.GetValues<DatabaseKind>())
        {
            var (host, reason) = await DrainboardHost.TryStartAsync(kind, Instant.FromUtc(2026, 11, 25, 14, 5), onPort: true, demo: true);
            if (host is null)
            {
                Console.WriteLine($"{kind}: {reason}");
                continue;
            }

            await using var running = host;
            await FillAsync(host, Many, Category.D);
            var query = host.Services.GetRequiredService<ClocksQuery>();
            var sql = await MedianAsync(() => HandWrittenAsync(host));
            var whole = await MedianAsync(async () =>
            {
                // The reading that pages share has grown old.
                host.Clock.AdvanceSeconds(11);
                return (await query.ReadAsync(CancellationToken.None)).Lines.Count;
            });
            var shared = await MedianAsync(async () => (await query.ReadAsync(CancellationToken.None)).Lines.Count);
            Console.WriteLine($"{kind}: {Many} running deferrals read with visits and order: median {whole:0} ms; the rows alone by hand-written SQL {sql:0} ms; ratio {whole / sql:0.0}. A page that shares a reading waits {shared:0.00} ms.");
            if (kind == DatabaseKind.Sqlite)
            {
                await CircuitMemory.MeasureAsync(host, "Yusuf Brandt", "/clocks", 20);
            }
        }

        return 0;
    }

    internal static async Task<double> MedianAsync(Func<Task<int>> read)
    {
        var times = new double[Reads];
        for (var round = -3; round < Reads; round++)
        {
            var started = Stopwatch.GetTimestamp();
            await read();
            if (round >= 0)
            {
                times[round] = Stopwatch.GetElapsedTime(started).TotalMilliseconds;
            }
        }

        return times.Order().ElementAt(Reads / 2);
    }

    internal static async Task<int> HandWrittenAsync(DrainboardHost host)
    {
        await using var db = await host.Db.CreateDbContextAsync();
        await db.Database.OpenConnectionAsync();
        await using var command = db.Database.GetDbConnection().CreateCommand();
        command.CommandText = """SELECT f.*, d."Number", d."Position", t."Registration" FROM "Deferrals" f JOIN "Defects" d ON f."Defect" = d."Id" JOIN "Tails" t ON d."Tail" = t."Id" WHERE f."EndedAt" IS NULL ORDER BY f."DueAt" """;
        await using var reader = await command.ExecuteReaderAsync();
        var values = new object[reader.FieldCount];
        var rows = 0;
        while (await reader.ReadAsync())
        {
            rows += reader.GetValues(values) > 0 ? 1 : 0;
        }

        return rows;
    }

    internal static async Task FillAsync(DrainboardHost host, int many, Category category)
    {
        await using var db = await host.Db.CreateDbContextAsync();
        var tails = await db.Tails.AsNoTracking().ToArrayAsync();
        var layouts = await db.Layouts.AsNoTracking().ToDictionaryAsync(layout => layout.Id);
        var now = host.Clock.GetCurrentInstant();
        var by = Actor.Installation with { Authorisation = new Authorisation("X", "benchmark", "benchmark", null) };
        for (var index = 0; index < many; index++)
        {
            var tail = tails[index % tails.Length];
            var layout = layouts[tail.Layout];
            var fixture = layout.Fixtures[index % layout.Fixtures.Count];
            var at = now - Duration.FromMinutes(index * 2L);
            var log = new LogReference(LogBook.Technical, "1", "1", at);
            var defect = new Defect(new DefectId(NewId.At(at)), tail.Id, new Sighting(fixture.Position, Symptom.DrainsSlowly, LeakAnswer.NoneSeen, "", FlightPhase.OnGround, "", at, null, log), at);
            defect.Give(1_000_000 + index);
            defect.Sort(Symptom.DrainsSlowly, LeakAnswer.NoneSeen, "", null, LogMode.BesideLog);
            var terms = new BasisTerms("Benchmark", "1", category, null, [fixture.Kind], [], 2, 1, false, false, "", false, false, []);
            Deferral.Propose(new DeferralId(NewId.At(at)), defect, fixture, layout, new DeferralBasis(default, BasisKind.MelItem, "38-B", terms), DeferralPolicies.Us, DateTimeZone.Utc, [], null, null, new DeferralTerms(2, 1, [], false, "", ""), log, LogMode.BesideLog, by, at, out var made);
            db.AddRange(defect, made!);
        }

        await db.SaveChangesAsync();
    }
}
