using Drainboard.Data;
using Drainboard.Domain.Fleet;
using Drainboard.Domain.PlannedChecks;
using Drainboard.Domain.Pours;
using Drainboard.Domain.Rectification;
using Drainboard.Domain.Turns;
using Drainboard.Web.Features.Pours;
using Microsoft.EntityFrameworkCore;
using NodaTime;

namespace Drainboard.Web.Features.PlannedChecks;

/// <summary>A tail, and the stay whose planned checks are asked about; no stay, no checks.</summary>
public sealed record RoundOf(Tail Tail, CabinLayout Layout, Visit? Visit, int SlowPercent);

/// <summary>The planned checks of one stay in order of urgency, each with its time, and the coldest that is known of it.</summary>
/// <param name="AsksForCold">A check hangs on the temperature of the stand.</param>
/// <param name="Overdue">What is over its interval, whether or not this stay may take it.</param>
public sealed record Round(IReadOnlyList<RoundSlot> Slots, IReadOnlyList<CheckDue> Overdue, StandTemperature? Coldest, bool AsksForCold);

/// <summary>Reads the planned checks of any number of tails in the same few statements: one where the operator asks for none.</summary>
public sealed class Rounds(DrainPours drains)
{
    public async Task<IReadOnlyDictionary<TailId, Round>> ReadAsync(DrainboardDb db, IReadOnlyCollection<RoundOf> tails, Duration paperwork, Instant now, CancellationToken stop)
    {
        var checks = await ChecksAsync(db, stop);
        if (checks.Count == 0 || tails.Count == 0)
        {
            return new Dictionary<TailId, Round>();
        }

        var ids = tails.Select(one => one.Tail.Id).ToArray();
        // What counts (CheckDone.Counts).
        var done = (await db.ChecksDone.Where(row => row.IsNewest && ids.Contains(row.Tail) && row.TakenBackAt == null && row.Outcome != CheckOutcome.NotReached).Select(row => new { row.Tail, row.Check, row.Position, row.At }).ToArrayAsync(stop)).ToLookup(row => row.Tail);
        var cleanings = checks.Where(check => check.Terms.IsCleaning).Select(check => check.Code).ToHashSet();
        var asksForCold = checks.Any(check => check.Terms.IsForCold);
        var told = asksForCold ? await ToldAsync(db, [.. tails.Select(one => one.Visit?.Station).OfType<StationCode>().Distinct()], now, stop) : [];
        var (opened, pours) = await DrainsAsync(db, ids, checks, now, stop);
        return tails.ToDictionary(one => one.Tail.Id, one => RoundFor(one, opened[one.Tail.Id].ToDictionary(row => row.At, row => row.When), pours[one.Tail.Id]));

        Round RoundFor(RoundOf one, Dictionary<Position, Instant> opened, IEnumerable<Pour> poured)
        {
            var coldest = one.Visit is { } stay ? StandTemperature.Coldest(told.Where(row => row.Station == stay.Station), Instant.Max(stay.ArrivesAt, now), stay.DepartsAt, now) : null;
            var last = done[one.Tail.Id].GroupBy(row => (row.Check, row.Position)).ToDictionary(alike => alike.Key, alike => alike.Max(row => row.At));
            var cleaned = last.Where(row => row.Key.Position is not null && cleanings.Contains(row.Key.Check)).Select(row => (At: row.Key.Position!.Value, When: row.Value));
            var open = opened.Select(row => (At: row.Key, When: row.Value)).Concat(cleaned).GroupBy(row => row.At).ToDictionary(alike => alike.Key, alike => alike.Max(row => row.When));
            var situation = new CheckSituation(one.Tail, one.Layout, checks, last, opened, DrainTrends.Calls(one.Layout, poured, open, one.SlowPercent, now), one.Visit, coldest);
            return new Round(one.Visit is { } visit ? WalkRound.Pack(CheckDues.Of(situation, now), visit, paperwork, now) : [], CheckDues.Overdue(situation, now), coldest, asksForCold);
        }
    }

    /// <summary>The newest version of every check that is asked for.</summary>
    public static async Task<IReadOnlyList<PlannedCheck>> ChecksAsync(DrainboardDb db, CancellationToken stop) =>
        await db.PlannedChecks.AsNoTracking().Where(row => !row.IsRetired && !db.PlannedChecks.Any(later => later.Code == row.Code && later.Number > row.Number)).OrderBy(row => row.Code).ToArrayAsync(stop);

    /// <summary>What was told of these stations' stands and may still hold, or stand in the place of what does.</summary>
    public static async Task<IReadOnlyList<StandTemperature>> ToldAsync(DrainboardDb db, IReadOnlyCollection<StationCode> stations, Instant now, CancellationToken stop) =>
        now - StandTemperature.FurthestAhead is var since ? await db.StandTemperatures.AsNoTracking().Where(row => stations.Contains(row.Station) && row.From > since).ToArrayAsync(stop) : [];

    /// <summary>What opened fixtures and how drains ran: read only where a check is a cleaning.</summary>
    private async Task<(ILookup<TailId, (Position At, Instant When)> Opened, ILookup<TailId, Pour> Pours)> DrainsAsync(DrainboardDb db, TailId[] tails, IReadOnlyList<PlannedCheck> checks, Instant now, CancellationToken stop)
    {
        if (!checks.Any(check => check.Terms.IsCleaning))
        {
            return (Array.Empty<Pour>().ToLookup(_ => default(TailId), _ => (default(Position), default(Instant))), Array.Empty<Pour>().ToLookup(pour => pour.Tail));
        }

        var since = now - Duration.Max(DrainTrends.LooksBack, Duration.FromDays(checks.Where(check => check.Terms.IsCleaning).Max(check => check.Terms.EveryDays)));
        var opened = await db.Work.AsNoTracking().Where(work => tails.Contains(work.Tail) && work.CompletedAt >= since && work.Found != Found.Nothing && work.ReturnReason == "")
            .GroupBy(work => new { work.Tail, work.FoundAt }).Select(alike => new { alike.Key.Tail, alike.Key.FoundAt, At = alike.Max(work => work.CompletedAt) }).ToArrayAsync(stop);
        return (opened.ToLookup(row => row.Tail, row => (row.FoundAt, row.At)), await drains.ReadAsync(db, tails, now, stop));
    }
}
