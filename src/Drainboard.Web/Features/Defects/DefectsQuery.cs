using Drainboard.Data;
using Drainboard.Domain.Defects;
using Drainboard.Domain.Fleet;
using Drainboard.Domain.Rectification;
using Drainboard.Web.Features.Fleet;
using Drainboard.Web.Features.Items;
using Microsoft.EntityFrameworkCore;
using NodaTime;

namespace Drainboard.Web.Features.Defects;

/// <summary>One line about a defect, for lists.</summary>
public sealed record DefectLine(Guid Id, int Number, string Tail, string Position, string FixtureName, Symptom Symptom, LeakAnswer Leak, DefectState State, Closure? Closure, Instant RecordedAt, Instant? ClosedAt, string? Found, long Version);

/// <summary>A page of lines, newest first; <see cref="Next"/> asks for the following page and is null on the last.</summary>
public sealed record DefectPageView(IReadOnlyList<DefectLine> Lines, string? Next);

public sealed class DefectsQuery(IDbContextFactory<DrainboardDb> factory, LayoutCatalog layouts)
{
    public const int PageSize = 20;

    /// <param name="after">The last line of the page before: its recorded time in ticks and its number.</param>
    public async Task<DefectPageView> ReadAsync(TailId? tail, Position? position, DefectState? state, string? after, CancellationToken stop)
    {
        await using var db = await factory.CreateDbContextAsync(stop);
        var rows = db.Defects.AsNoTracking();
        if (tail is { } oneTail)
        {
            rows = rows.Where(defect => defect.Tail == oneTail);
        }

        if (position is { } one)
        {
            rows = rows.Where(defect => defect.Position == one);
        }

        if (state is { } only)
        {
            // Said in the statement itself: what is not closed has an index of its own, which a prepared statement for any state could not use.
            rows = rows.Where(defect => defect.State == EF.Constant(only));
        }

        if (ParseAfter(after) is var (at, number))
        {
            rows = rows.Where(defect => defect.RecordedAt <= at && (defect.RecordedAt < at || defect.Number < number));
        }

        var lines = await LinesAsync(db, rows.OrderByDescending(defect => defect.RecordedAt).ThenByDescending(defect => defect.Number).Take(PageSize + 1), stop);
        var shown = lines.OrderByDescending(line => line.RecordedAt).ThenByDescending(line => line.Number).Take(PageSize).ToArray();
        return new DefectPageView(shown, lines.Count > PageSize ? $"{shown[^1].RecordedAt.ToUnixTimeTicks()}-{shown[^1].Number}" : null);
    }

    /// <summary>A tail's write-ups closed last, the last one first.</summary>
    public async Task<IReadOnlyList<DefectLine>> ClosedLatelyAsync(TailId tail, CancellationToken stop)
    {
        await using var db = await factory.CreateDbContextAsync(stop);
        var lines = await LinesAsync(db, db.Defects.Where(defect => defect.Tail == tail && defect.ClosedAt != null).OrderByDescending(defect => defect.ClosedAt).Take(PageSize), stop);
        return [.. lines.OrderByDescending(line => line.ClosedAt).ThenByDescending(line => line.Number)];
    }

    private async Task<IReadOnlyList<DefectLine>> LinesAsync(DrainboardDb db, IQueryable<Defect> some, CancellationToken stop)
    {
        var rows = await (from defect in some
                          join tail in db.Tails on defect.Tail equals tail.Id
                          select new
                          {
                              defect.Id, defect.Number, tail.Registration, tail.Layout, defect.Position, defect.Symptom, defect.Leak, defect.State, defect.Closure, defect.RecordedAt, defect.ClosedAt, defect.Version,
                              Found = db.Work.Where(work => work.Defect == defect.Id && work.ReturnReason == "").OrderByDescending(work => work.RecordedAt).Select(work => (Found?)work.Found).FirstOrDefault(),
                          }).ToArrayAsync(stop);
        var lines = new List<DefectLine>(rows.Length);
        foreach (var row in rows)
        {
            var fixture = ItemDoor.FixtureAt(await layouts.GetAsync(row.Layout, stop), row.Position);
            lines.Add(new DefectLine(row.Id.Value, row.Number, row.Registration.Value, row.Position.Value, fixture.Name, row.Symptom, row.Leak, row.State, row.Closure, row.RecordedAt, row.ClosedAt, row.Found is { } seen ? FoundWords.Words(seen) : null, row.Version));
        }

        return lines;
    }

    private static (Instant At, int Number)? ParseAfter(string? after) =>
        after?.Split('-') is [var ticks, var number] && long.TryParse(ticks, out var at) && at >= 0 && at <= Instant.MaxValue.ToUnixTimeTicks() && int.TryParse(number, out var last) ? (Instant.FromUnixTimeTicks(at), last) : null;
}
