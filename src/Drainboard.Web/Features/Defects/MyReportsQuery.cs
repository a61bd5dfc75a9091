using Drainboard.Data;
using Drainboard.Domain.Accounts;
using Drainboard.Domain.Defects;
using Drainboard.Domain.Rectification;
using Drainboard.Domain.Turns;
using Drainboard.Web.Features.Fleet;
using Drainboard.Web.Features.Items;
using Microsoft.EntityFrameworkCore;
using NodaTime;

namespace Drainboard.Web.Features.Defects;

/// <summary>A person's own report and what became of it, in values and not in sentences: the report page says it in the reader's language.</summary>
/// <param name="Reference">The number that stands for the defect, as it was told when the report came in.</param>
/// <param name="Station">Where the work was done.</param>
/// <param name="FoundAt">The name of the place where it was found.</param>
public sealed record MyReport(Guid Id, string Reference, string Tail, string Position, string FixtureName, Symptom Symptom, Instant SeenAt, Instant ReceivedAt, DefectState State, Closure? Closure, string? Station, Found? Found, string? FoundAt, Instant? DueAt, Instant? ClosedAt, int Photos);

public sealed class MyReportsQuery(IDbContextFactory<DrainboardDb> factory, LayoutCatalog layouts, IClock clock)
{
    private static readonly Duration LookBack = Duration.FromDays(60);
    private const int Most = 50;

    public async Task<IReadOnlyList<MyReport>> ReadAsync(PersonId person, CancellationToken stop)
    {
        await using var db = await factory.CreateDbContextAsync(stop);
        var since = clock.GetCurrentInstant() - LookBack;
        var reports = await db.Reports.AsNoTracking().Where(report => report.Reporter == person && report.ReceivedAt > since).OrderByDescending(report => report.ReceivedAt).Take(Most).ToArrayAsync(stop);
        var defects = await DefectsAsync(db, [.. reports.Select(report => report.Defect).Distinct()], stop);
        var ids = defects.Values.Select(defect => defect.Id).Distinct().ToArray();
        var work = (await db.Work.AsNoTracking().Where(row => ids.Contains(row.Defect)).ToArrayAsync(stop)).GroupBy(row => row.Defect).ToDictionary(rows => rows.Key, rows => rows.MaxBy(row => row.CompletedAt)!);
        var carried = await db.Deferrals.AsNoTracking().Where(row => ids.Contains(row.Defect) && row.EndedAt == null).ToDictionaryAsync(row => row.Defect, row => row.DueAt, stop);
        var tailIds = reports.Select(report => report.Tail).Distinct().ToArray();
        var tails = await db.Tails.AsNoTracking().Where(tail => tailIds.Contains(tail.Id)).ToDictionaryAsync(tail => tail.Id, stop);
        var turns = (await db.Turns.AsNoTracking().Where(turn => tailIds.Contains(turn.Tail) && turn.EstimatedDeparture > since).ToArrayAsync(stop)).ToLookup(turn => turn.Tail);
        var made = new List<MyReport>();
        foreach (var report in reports)
        {
            var (defect, tail) = (defects[report.Defect], tails[report.Tail]);
            var layout = await layouts.GetAsync(tail.Layout, stop);
            var done = work.GetValueOrDefault(defect.Id);
            made.Add(new MyReport(
                report.Id.Value, $"{tail.Registration} {defect.Number}", tail.Registration.Value, report.Position.Value, ItemDoor.FixtureAt(layout, report.Position).Name, report.Symptom, report.SeenAt, report.ReceivedAt, defect.State, defect.Closure,
                done is null ? null : StationAt(turns[tail.Id], done.CompletedAt), done?.Found, done is null ? null : ItemDoor.FixtureAt(layout, done.FoundAt).Name, carried.GetValueOrDefault(defect.Id), defect.ClosedAt, report.Photos.Count));
        }

        return made;
    }

    /// <summary>The defects by the id that the reports name; one that was joined to another is that other.</summary>
    private static async Task<Dictionary<DefectId, Defect>> DefectsAsync(DrainboardDb db, DefectId[] ids, CancellationToken stop)
    {
        var named = await db.Defects.AsNoTracking().Where(defect => ids.Contains(defect.Id)).ToArrayAsync(stop);
        var joined = named.Select(defect => defect.SameAs).OfType<DefectId>().ToArray();
        var into = await db.Defects.AsNoTracking().Where(defect => joined.Contains(defect.Id)).ToDictionaryAsync(defect => defect.Id, stop);
        return named.ToDictionary(defect => defect.Id, defect => defect.SameAs is { } same ? into[same] : defect);
    }

    private static string? StationAt(IEnumerable<Turn> turns, Instant at) =>
        turns.Where(turn => turn.EstimatedArrival <= at && at <= turn.EstimatedDeparture).Select(turn => turn.Station.Value).FirstOrDefault();
}
