using Drainboard.Data;
using Drainboard.Domain.Defects;
using Drainboard.Domain.Fleet;
using Drainboard.Domain.Rectification;
using Drainboard.Web.Features.Fleet;
using Microsoft.EntityFrameworkCore;
using NodaTime;

namespace Drainboard.Web.Features.Reliability;

/// <summary>What was found at write-ups, counted by one thing at a time.</summary>
public sealed class CausesQuery(IDbContextFactory<DrainboardDb> factory, LayoutCatalog layouts, IClock clock)
{
    public const int UsualDays = 365;

    private const int FewestForANote = 5;

    public async Task<CausesView> ReadAsync(FleetScope scope, CauseBy by, int days, CancellationToken stop)
    {
        await using var db = await factory.CreateDbContextAsync(stop);
        var until = clock.GetCurrentInstant();
        var from = until - Duration.FromDays(Math.Clamp(days, 1, 3660));
        var cabins = await scope.CabinsAsync(db, layouts, stop);
        var findings = await FindingsAsync(db, scope, cabins, from, until, stop);
        var routes = by == CauseBy.Route ? await RoutesAsync(db, cabins, from, until, stop) : null;
        var counted = findings.GroupBy(one => Label(one, by, cabins[one.Tail], routes)).Select(group => (Label: group.Key, Count: group.Count()));
        var ordered = by is CauseBy.Hour or CauseBy.Month ? counted.OrderBy(one => one.Label, StringComparer.Ordinal) : counted.OrderByDescending(one => one.Count).ThenBy(one => one.Label, StringComparer.Ordinal);
        var lines = new List<CauseLine>();
        var running = 0;
        foreach (var (label, count) in ordered)
        {
            running += count;
            lines.Add(new CauseLine(label, count, (double)count / findings.Count, (double)running / findings.Count));
        }

        return new CausesView(from, until, by, findings.Count, lines, Galleys(findings, cabins));
    }

    private static async Task<IReadOnlyList<Finding>> FindingsAsync(DrainboardDb db, FleetScope scope, IReadOnlyDictionary<TailId, CabinLayout> cabins, Instant since, Instant until, CancellationToken stop)
    {
        var rows = await (from defect in scope.WriteUps(db, cabins, since, until)
                          join work in db.Work.AsNoTracking() on defect.Id equals work.Defect
                          where work.Outcome != null && work.Outcome != WorkOutcome.NotRectified
                          select new Finding(defect.Tail, defect.Position, work.FoundAt, work.Found, defect.SeenAt, defect.RecordedAt)).ToListAsync(stop);
        return [.. rows.Where(one => cabins.ContainsKey(one.Tail) && (scope.Kind is null || cabins[one.Tail].Find(one.Position)?.Kind == scope.Kind))];
    }

    private static string Label(Finding one, CauseBy by, CabinLayout cabin, Dictionary<TailId, Leg[]>? routes) => by switch
    {
        CauseBy.Found => one.Found.Words(),
        CauseBy.Place => $"{cabin.Code} {cabin.Find(one.FoundAt)?.Name ?? one.FoundAt.Value}",
        CauseBy.Galley => $"{cabin.Code} {cabin.Find(one.Position)?.Area ?? "elsewhere"}",
        CauseBy.Layout => cabin.Code,
        CauseBy.Route => RouteOf(routes!.GetValueOrDefault(one.Tail), one.SeenAt),
        CauseBy.Hour => $"{one.SeenAt.InUtc().Hour:00} to {(one.SeenAt.InUtc().Hour + 1) % 24:00} UTC",
        CauseBy.Month => one.RecordedAt.InUtc().Date.ToYearMonth().ToString("uuuu-MM", System.Globalization.CultureInfo.InvariantCulture),
    };

    private static string RouteOf(Leg[]? legs, Instant at)
    {
        var found = legs is null ? -1 : Array.FindLastIndex(legs, leg => leg.Off <= at);
        return found >= 0 && at <= legs![found].On ? legs[found].Name : "on the ground, or flight not on record";
    }

    private static async Task<Dictionary<TailId, Leg[]>> RoutesAsync(DrainboardDb db, IReadOnlyDictionary<TailId, CabinLayout> cabins, Instant from, Instant until, CancellationToken stop)
    {
        var tails = cabins.Keys.ToArray();
        var flown = await db.Sectors.AsNoTracking().Where(sector => tails.Contains(sector.Tail) && sector.Flown && sector.OnBlock >= from && sector.OffBlock <= until).Select(sector => new { sector.Tail, sector.From, sector.To, sector.OffBlock, sector.OnBlock }).ToArrayAsync(stop);
        return flown.GroupBy(sector => sector.Tail).ToDictionary(tail => tail.Key, tail => tail.OrderBy(sector => sector.OffBlock).Select(sector => new Leg(sector.OffBlock, sector.OnBlock, $"{sector.From} to {sector.To}")).ToArray());
    }

    /// <summary>What crew could keep out: of the blockages below a galley's sinks, those that somebody poured away.</summary>
    private static IReadOnlyList<GalleyNote> Galleys(IReadOnlyList<Finding> findings, IReadOnlyDictionary<TailId, CabinLayout> cabins) =>
    [
        .. from one in findings
           let cabin = cabins[one.Tail]
           let fixture = cabin.Find(one.Position)
           where fixture is { Kind: FixtureKind.GalleySink } && one.Found.IsBlockage()
           group one by (cabin.Code, fixture.Area) into galley
           where galley.Count() >= FewestForANote
           let preventable = galley.Where(one => one.Found.IsPreventableInGalley()).ToArray()
           orderby preventable.Length descending, galley.Key.Code, galley.Key.Area
           select new GalleyNote(galley.Key.Code, galley.Key.Area, galley.Count(), preventable.Length, NoteWords(preventable, galley.Count(), galley.Key.Area)),
    ];

    private static string NoteWords(Finding[] preventable, int blockages, string area)
    {
        if (preventable.Length == 0)
        {
            return $"None of the last {blockages} blockages in the {area.ToLowerInvariant()} galley was poured away.";
        }

        var worst = preventable.CountBy(one => one.Found).OrderByDescending(pair => pair.Value).ThenBy(pair => pair.Key).Take(2).Select(pair => pair.Key.Words().ToLowerInvariant());
        return $"{preventable.Length} of the last {blockages} blockages in the {area.ToLowerInvariant()} galley were poured away, most of all {string.Join(" and ", worst)}. Into the waste cart with it, not down the sink.";
    }

    private sealed record Finding(TailId Tail, Position Position, Position FoundAt, Found Found, Instant SeenAt, Instant RecordedAt);

    private sealed record Leg(Instant Off, Instant On, string Name);
}
