using Drainboard.Data;
using Drainboard.Domain.Defects;
using Drainboard.Domain.Fleet;
using Drainboard.Domain.Isolation;
using Drainboard.Domain.Rectification;
using Microsoft.EntityFrameworkCore;
using NodaTime;

namespace Drainboard.Web.Features.Isolation;

/// <summary>What the tails of one layout found on slow drains, where and in how many minutes, and when this tail's places were opened last.</summary>
internal sealed class FleetFindings
{
    private const int FewestTimes = 5;
    private const int NewestTimes = 2000;
    public static readonly Symptom[] Draining = [.. Enum.GetValues<Symptom>().Where(symptom => symptom.Family() == SymptomFamily.Draining)];
    private readonly Dictionary<Position, SegmentHistory> _places = [];

    private FleetFindings()
    {
    }

    public SegmentHistory Of(Position place) => _places.GetValueOrDefault(place) ?? SegmentHistory.None;

    public static async Task<FleetFindings> ReadAsync(DrainboardDb db, Tail tail, CabinLayout layout, Instant now, CancellationToken stop)
    {
        // Positions keep their meaning from version to version of one layout.
        var versions = await db.Layouts.Where(row => row.Code == layout.Code).Select(row => row.Id).ToArrayAsync(stop);
        var tails = await db.Tails.Where(row => versions.Contains(row.Layout)).Select(row => row.Id).ToArrayAsync(stop);
        var found = await (from work in db.Work.AsNoTracking()
                           where tails.Contains(work.Tail) && work.Outcome != null && work.Outcome != WorkOutcome.NotRectified
                           join defect in db.Defects.AsNoTracking() on work.Defect equals defect.Id
                           where Draining.Contains(defect.Symptom)
                           group work by new { work.Position, work.FoundAt, Nothing = work.Found == Found.Nothing } into same
                           select new { same.Key.Position, same.Key.FoundAt, same.Key.Nothing, Count = same.Count() }).ToArrayAsync(stop);
        var opened = await db.Work.AsNoTracking().Where(work => work.Tail == tail.Id && work.ReturnReason == "" && work.Found != Found.Nothing).GroupBy(work => work.FoundAt).Select(same => new { same.Key, At = same.Max(work => work.CompletedAt) }).ToDictionaryAsync(one => one.Key, one => one.At, stop);
        var times = await db.Work.AsNoTracking().Where(work => tails.Contains(work.Tail) && work.Outcome != null && work.Outcome != WorkOutcome.NotRectified && work.Minutes > 0 && work.Found != Found.Nothing).OrderByDescending(work => work.CompletedAt).Take(NewestTimes).Select(work => new { work.FoundAt, work.Minutes }).ToArrayAsync(stop);
        var kinds = layout.Fixtures.ToDictionary(fixture => fixture.Position, fixture => fixture.Kind);
        var minutes = times.Where(one => kinds.ContainsKey(one.FoundAt)).GroupBy(one => kinds[one.FoundAt]).ToDictionary(kind => kind.Key, kind => kind.Select(one => one.Minutes!.Value).Order().ToArray());
        var ways = layout.Fixtures.Where(CabinDrains.IsOutlet).ToDictionary(fixture => fixture.Position, fixture => CabinDrains.PathOf(layout, fixture.Position).Select(node => node.Position).ToHashSet());
        var findings = new FleetFindings();
        foreach (var place in ways.Values.SelectMany(way => way).Distinct())
        {
            var own = minutes.GetValueOrDefault(kinds[place]) is { Length: >= FewestTimes } sorted ? ((double)sorted[sorted.Length / 2], sorted.Length) : ((double, int)?)null;
            var through = found.Where(one => ways.GetValueOrDefault(one.Position)?.Contains(place) == true).ToArray();
            findings._places[place] = new SegmentHistory(
                through.Where(one => one.FoundAt == place && !one.Nothing).Sum(one => one.Count),
                through.Sum(one => one.Count),
                opened.TryGetValue(place, out var at) ? Math.Max(0, (now - at).TotalDays) : null, own);
        }

        return findings;
    }
}
