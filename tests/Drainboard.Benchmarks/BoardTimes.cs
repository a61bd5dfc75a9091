using Drainboard.Domain.Cards;
using System.Diagnostics;
using Drainboard.Data;
using Drainboard.Domain;
using Drainboard.Domain.Accounts;
using Drainboard.Domain.Defects;
using Drainboard.Domain.Fleet;
using Drainboard.Domain.Rectification;
using Drainboard.Domain.Records;
using Drainboard.Testing;
using Drainboard.Testing.Databases;
using Drainboard.Web.Features.Board;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.DependencyInjection;
using NodaTime;

namespace Drainboard.Benchmarks;

/// <summary>The Board of one station with the demo's 3,000 defects, then with 200,000: closed history must not slow it.</summary>
internal static class BoardTimes
{
    private const int Many = 200_000;
    private const int Reads = 200;

    public static async Task<int> RunAsync()
    {
        foreach (var kind in Enum.GetValues<DatabaseKind>())
        {
            var (host, reason) = await DrainboardHost.TryStartAsync(kind, Instant.FromUtc(2026, 11, 25, 14, 5), demo: true);
            if (host is null)
            {
                Console.WriteLine($"{kind}: {reason}");
                continue;
            }

            await using var running = host;
            var few = await CountAsync(host);
            var before = await MeasureAsync(host);
            await FillAsync(host, Many - few);
            var after = await MeasureAsync(host);
            Console.WriteLine($"{kind}: {few} defects median {before.Median:0.00} ms, p99 {before.P99:0.00} ms; {await CountAsync(host)} defects median {after.Median:0.00} ms, p99 {after.P99:0.00} ms; ratio of medians {after.Median / before.Median:0.00}");
        }

        return 0;
    }

    private static async Task<int> CountAsync(DrainboardHost host)
    {
        await using var db = await host.Db.CreateDbContextAsync();
        return await db.Defects.CountAsync();
    }

    private static async Task<(double Median, double P99)> MeasureAsync(DrainboardHost host)
    {
        var query = host.Services.GetRequiredService<BoardQuery>();
        var hub = StationCode.Parse("QQMB");
        // Statistics fresh and the code compiled in its last tier, before the first as before the second measurement.
        await using (var db = await host.Db.CreateDbContextAsync())
        {
            await db.Database.ExecuteSqlRawAsync("ANALYZE");
        }

        for (var warm = 0; warm < 1000; warm++)
        {
            await query.ReadAsync(hub, CancellationToken.None);
        }

        var times = new double[Reads];
        for (var read = 0; read < Reads; read++)
        {
            var started = Stopwatch.GetTimestamp();
            await query.ReadAsync(hub, CancellationToken.None);
            times[read] = Stopwatch.GetElapsedTime(started).TotalMilliseconds;
        }

        Array.Sort(times);
        return (times[Reads / 2], times[Reads * 99 / 100]);
    }

    /// <summary>Closed defects through the domain's methods, without their record entries: the Board reads neither.</summary>
    private static async Task FillAsync(DrainboardHost host, int count)
    {
        await using var look = await host.Db.CreateDbContextAsync();
        var tails = await look.Tails.AsNoTracking().ToArrayAsync();
        var layouts = await look.Layouts.AsNoTracking().ToDictionaryAsync(layout => layout.Id);
        var by = Actor.Installation with { Authorisation = new Authorisation("X", "benchmark", "benchmark", null) { Approval = "benchmark" } };
        for (var done = 0; done < count;)
        {
            await using var db = await host.Db.CreateDbContextAsync();
            for (var batch = 0; batch < 4000 && done < count; batch++, done++)
            {
                var tail = tails[done % tails.Length];
                var layout = layouts[tail.Layout];
                var fixture = layout.Fixtures[done % layout.Fixtures.Count];
                var at = Instant.FromUtc(2020, 1, 1, 0, 0) + Duration.FromMinutes(done * 14L);
                var log = new LogReference(LogBook.Technical, "1", "1", at);
                var defect = new Defect(new DefectId(NewId.At(at)), tail.Id, new Sighting(fixture.Position, Symptom.DrainsSlowly, LeakAnswer.NoneSeen, "", FlightPhase.OnGround, "", at, null, log), at);
                defect.Give(1_000_000 + done);
                defect.Sort(Symptom.DrainsSlowly, LeakAnswer.NoneSeen, "", null, LogMode.BesideLog);
                WorkDone.Record(new RectificationId(NewId.At(at)), defect, layout, new WorkTerms(Found.Grounds, fixture.Position, "M", ["Cleaned."], at, 5, new Check(true, "", "", at), new Check(true, "", "", at)), by, at, out var work);
                var released = work!.SignRelease(defect, null, new ReleaseTerms(WorkOutcome.Rectified, "", log), LooseEnds.None, LogMode.BesideLog, new SigningPlace(DateTimeZone.Utc, null, layout.Code, fixture.Kind, true), by, at);
                if (released is Domain.Decision.Refused refused)
                {
                    throw new InvalidOperationException($"The history is not closed: {refused.Refusal.Words}");
                }

                db.AddRange(defect, work);
            }

            await db.SaveChangesAsync();
        }
    }
}
