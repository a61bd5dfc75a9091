using System.Globalization;
using Drainboard.Data;
using Drainboard.Domain;
using Drainboard.Domain.Deferrals;
using Drainboard.Domain.Defects;
using Drainboard.Domain.Fleet;
using Drainboard.Domain.Network;
using Drainboard.Domain.TurnFit;
using Drainboard.Domain.Turns;
using Drainboard.Web.Features.Deferrals;
using Drainboard.Web.Features.Fleet;
using Drainboard.Web.Features.Items;
using Drainboard.Web.Features.TurnFit;
using Drainboard.Web.Features.Turns;
using Drainboard.Web.Shell;
using Microsoft.EntityFrameworkCore;
using NodaTime;

namespace Drainboard.Web.Features.Network;

/// <summary>Gathers every running deferral with the stays that could take it, and makes of them the problem that is planned.</summary>
public sealed class NetworkDrafts(LayoutCatalog layouts, FleetJobs jobs)
{
    private const int MostDays = 14;
    private const int MostClosings = 100;

    /// <summary>A plan is looked at before it is given out: of today so much less has gone by (our choice).</summary>
    internal static readonly Duration LookedAtFor = Duration.FromMinutes(20);

    internal async Task<(NetworkDraft? Draft, Refusal? Refusal)> ReadAsync(DrainboardDb db, NetworkWish wish, Instant now, CancellationToken stop, Duration lookedAt = default)
    {
        if (WhyNot(wish) is { } wrong)
        {
            return (null, wrong);
        }

        var book = await jobs.GetAsync(stop);
        var rows = await (from deferral in db.Deferrals.AsNoTracking()
                          where deferral.EndedAt == null && deferral.BeganAt != null
                          join defect in db.Defects.AsNoTracking() on deferral.Defect equals defect.Id
                          join tail in db.Tails.AsNoTracking() on defect.Tail equals tail.Id
                          select new Carried(deferral, defect.State, defect.Id, defect.Number, defect.Position, defect.Symptom, tail.Registration, tail.Id, tail.Layout)).ToArrayAsync(stop);
        var (swapped, unknown) = await SwappedAsync(db, wish.Swap, stop);
        if (unknown is not null)
        {
            return (null, unknown);
        }

        var (turns, stations) = await VisitPlans.TurnsAsync(db, [.. rows.Select(row => row.TailId).Concat(swapped).Distinct()], now, stop);
        if (WhyNot(wish, stations) is { } refusal)
        {
            return (null, refusal);
        }

        var swap = swapped.Count == 0 ? null : TailSwap.Of([.. turns.Where(turn => turn.Tail == swapped[0] && !turn.IsOver(now))], [.. turns.Where(turn => turn.Tail == swapped[1] && !turn.IsOver(now))], now);
        if (swapped.Count > 0 && swap is null)
        {
            return (null, new Refusal("never-meet", $"{wish.Swap!.One} and {wish.Swap.Other} stand nowhere at the same time, as far as is planned. Choose two that meet."));
        }

        var until = now + Duration.FromDays(wish.Days);
        IReadOnlyList<Sector> flown = swap is null ? [] : swap.Flights(await db.Sectors.AsNoTracking().Where(sector => swapped.Contains(sector.Tail)).ToArrayAsync(stop));
        var flights = flown.ToLookup(sector => sector.Tail);
        var open = (swap?.Stays(turns) ?? turns).Where(turn => !IsClosed(turn, wish, now, until));
        var plans = VisitPlans.Of(open, stations, book.Terms, now);
        var days = new StationDays(stations, wish, now, now - lookedAt);
        var lines = new List<(ClockOutlook Outlook, NetworkLine Line, NetworkItem? Item)>(rows.Length);
        foreach (var row in rows)
        {
            var cabin = await layouts.GetAsync(row.Layout, stop);
            var due = swapped.Contains(row.TailId) && row.Deferral.Basis.CountsFlights ? row.Deferral.ReadClock([.. flights[row.TailId].OrderBy(sector => sector.OffBlock).Select(Flights.Of)])?.DueAt : row.Deferral.DueAt;
            lines.Add(Line(row, cabin, due, book, plans.GetValueOrDefault(row.TailId, VisitPlan.Empty), stations, days, until, now));
        }

        var ordered = lines.OrderBy(one => one.Outlook).ThenBy(one => one.Line.Tail, StringComparer.Ordinal).ThenBy(one => one.Line.Number).ToArray();
        var told = wish.KeepPlan ? (await db.FleetPlans.AsNoTracking().SingleOrDefaultAsync(stop))?.Content.Items.ToDictionary(item => item.Defect.ToString(), item => item.Turn.ToString()) : null;
        return (new NetworkDraft(now, until, [.. ordered.Select(one => one.Line)], days.All, swap is null ? null : Words(swap, wish.Swap!, stations, now))
        {
            Problem = new NetworkProblem([.. ordered.Select(one => one.Item).OfType<NetworkItem>()], days.Capacities) { Told = told ?? [] },
        }, null);
    }

    internal static Refusal? WhyNot(NetworkWish wish) => wish.Days is < 1 or > MostDays ? new Refusal("days", $"Looking ahead is for 1 to {MostDays} days.") : null;

    /// <summary>One item with every stay of the days; null where it is not carried.</summary>
    internal async Task<NetworkItemView?> ItemAsync(DrainboardDb db, NetworkDraft draft, DefectId id, CancellationToken stop)
    {
        if (draft.Lines.FirstOrDefault(line => line.Defect == id.Value) is not { } line)
        {
            return null;
        }

        var book = await jobs.GetAsync(stop);
        var tail = await (from defect in db.Defects.AsNoTracking() where defect.Id == id join one in db.Tails.AsNoTracking() on defect.Tail equals one.Id select new { one.Id, one.Layout, defect.Position, defect.Symptom }).SingleAsync(stop);
        var cabin = await layouts.GetAsync(tail.Layout, stop);
        var need = book.Need(cabin.Code, ItemDoor.FixtureAt(cabin, tail.Position), tail.Symptom.Family());
        var (plans, _, stations) = await VisitPlans.ReadAsync(db, [tail.Id], book.Terms, draft.Now, stop);
        var views = plans.GetValueOrDefault(tail.Id, VisitPlan.Empty).From(draft.Now).Where(visit => visit.ArrivesAt < draft.Until).Select(visit => VisitView.Of(visit, need, stations[visit.Station].Zone, line.Standing == NetworkStanding.Lapsed ? null : line.DueAt, draft.Now));
        return new NetworkItemView(line, line.Standing == NetworkStanding.Lapsed ? [.. views.Select((view, at) => at == 0 ? view : view with { CanTake = false, WhyNot = "it has lapsed and does not get there" })] : [.. views]);
    }

    private static (ClockOutlook, NetworkLine, NetworkItem?) Line(Carried row, CabinLayout cabin, Instant? due, FitBook book, VisitPlan plan, IReadOnlyDictionary<StationCode, Station> stations, StationDays days, Instant until, Instant now)
    {
        var fixture = ItemDoor.FixtureAt(cabin, row.Position);
        var need = book.Need(cabin.Code, fixture, row.Symptom.Family());
        var work = book.Work(cabin.Code, fixture, row.Symptom.Family(), Progress.None);
        var outlook = ClockOutlook.Of(due, need, plan, now);

        // One that has lapsed does not depart until it is done: the stay it is in, or flies to, is the one that can take it, however long that lasts.
        var end = outlook.Lapsed ? Instant.MaxValue : due ?? Instant.MaxValue;
        var ahead = outlook.Lapsed ? plan.From(now).Take(1).ToArray() : [.. plan.From(now).Where(visit => visit.ArrivesAt < until && visit.ArrivesAt < end)];
        var able = ahead.Where(visit => outlook.Lapsed ? (visit.Abilities & need.Ability) == need.Ability : visit.CanTake(need, now, end)).ToArray();
        var stays = able.Select(visit => new NetworkStay(visit.Turn.Id.Value, VisitView.Of(visit, need, stations[visit.Station].Zone, outlook.Lapsed ? null : due, now), outlook.Lapsed ? 1 : FitOutlook.Of(work, visit.Workable(need.Place), visit.ArrivesAt, Instant.Min(visit.DepartsAt, end), now, book.Terms).Chance)).ToArray();
        var runsOn = due > until && due > (plan.Ends ?? now);
        var standing = row.State == DefectState.WorkDone ? NetworkStanding.AwaitsRelease
            : outlook.Lapsed ? NetworkStanding.Lapsed
            : due is null ? NetworkStanding.NoEnd
            : runsOn || outlook.LastVisit?.ArrivesAt >= until ? NetworkStanding.CanWait
            : outlook.LastVisit is null ? NetworkStanding.Stranded
            : NetworkStanding.AtStake;
        var line = new NetworkLine(row.Defect.Value, row.Number, row.Registration.Value, fixture.Name, row.Deferral.BasisCode, due, standing, need.Minutes, stays, outlook.LastVisit is { } final ? VisitView.Of(final, need, stations[final.Station].Zone, due, now) : null, ahead.Length - able.Length);
        return (outlook, line, standing is NetworkStanding.CanWait or NetworkStanding.NoEnd or NetworkStanding.AwaitsRelease ? null : new NetworkItem(row.Defect.Value.ToString(), [.. able.Zip(stays).Select(one => new NetworkOption(one.Second.Turn.ToString(), need.Minutes, one.Second.Chance, (int)Duration.Max(Duration.Zero, one.First.ArrivesAt - now).TotalDays, outlook.Lapsed ? days.DrawsOfDay(one.First, need.Place) : days.Draws(one.First, need.Place, end)))]));
    }

    private static async Task<(IReadOnlyList<TailId> Tails, Refusal? Refusal)> SwappedAsync(DrainboardDb db, SwappedTails? swap, CancellationToken stop)
    {
        var tails = new List<TailId>();
        foreach (var text in swap is null ? [] : new[] { swap.One, swap.Other })
        {
            var tail = Registration.TryParse(text, out var registration) ? await db.Tails.AsNoTracking().SingleOrDefaultAsync(tail => tail.Registration == registration, stop) : null;
            if (tail is null)
            {
                return ([], new Refusal("unknown-tail", $"There is no tail \"{text}\"."));
            }

            tails.Add(tail.Id);
        }

        return tails.Distinct().Count() == tails.Count ? (tails, null) : ([], new Refusal("same-tail", "A tail is swapped with another one: name two."));
    }

    private static Refusal? WhyNot(NetworkWish wish, IReadOnlyDictionary<StationCode, Station> stations)
    {
        if ((wish.Closed ?? []).Any(closed => closed is null) || (wish.Minutes ?? []).Any(one => one is null) || wish.Closed?.Count > MostClosings || wish.Minutes?.Count > MostClosings)
        {
            return new Refusal("what-if", $"Up to {MostClosings} stations are closed or have other minutes; each is named.");
        }

        var known = stations.Keys.Select(code => code.Value).ToHashSet(StringComparer.OrdinalIgnoreCase);
        var named = (wish.Closed ?? []).Select(closed => closed.Station).Concat((wish.Minutes ?? []).Select(one => one.Station));
        return named.FirstOrDefault(code => !known.Contains(code)) is { } missing ? new Refusal("unknown-station", $"There is no station \"{missing}\".")
            : wish.Closed?.FirstOrDefault(closed => closed.To <= closed.From) is { } backward ? new Refusal("closed-backward", $"The time in which {backward.Station} is closed ends before it begins.")
            : wish.Minutes?.FirstOrDefault(one => one.Minutes is < 0 or > 100_000) is { } wrong ? new Refusal("minutes", $"{wrong.Station}: minutes a day are 0 to 100,000.")
            : null;
    }

    private static bool IsClosed(Turn turn, NetworkWish wish, Instant now, Instant until) =>
        (wish.Closed ?? []).Any(closed => string.Equals(closed.Station, turn.Station.Value, StringComparison.OrdinalIgnoreCase) && turn.ArrivesAt < (closed.To ?? until) && turn.DepartsAt > (closed.From ?? now));

    private static string Words(TailSwap swap, SwappedTails wish, IReadOnlyDictionary<StationCode, Station> stations, Instant now) =>
        $"{wish.One} and {wish.Other} swap at {swap.Station}: {wish.One} leaves at {Times.Near(swap.OtherLeaves, stations[swap.Station].Zone, now)}, {wish.Other} at {Times.Near(swap.OneLeaves, stations[swap.Station].Zone, now)}, local.";

    private sealed record Carried(Deferral Deferral, DefectState State, DefectId Defect, int Number, Position Position, Symptom Symptom, Registration Registration, TailId TailId, LayoutId Layout);

    /// <summary>What stays draw on: the minutes of their station's day, and of the place on board.</summary>
    private sealed class StationDays(IReadOnlyDictionary<StationCode, Station> stations, NetworkWish wish, Instant now, Instant since)
    {
        private readonly Dictionary<string, StationDay> _days = [];
        private readonly Dictionary<string, int> _places = [];
        private readonly Dictionary<StationCode, DateTimeZone> _zones = stations.ToDictionary(one => one.Key, one => DateTimeZoneProviders.Tzdb[one.Value.Zone]);
        private readonly Dictionary<string, int> _minutes = (wish.Minutes ?? []).GroupBy(one => one.Station, StringComparer.OrdinalIgnoreCase).ToDictionary(one => one.Key, one => one.Last().Minutes, StringComparer.OrdinalIgnoreCase);

        public IReadOnlyList<StationDay> All => [.. _days.Values.OrderBy(day => day.Station, StringComparer.Ordinal).ThenBy(day => day.Day)];

        public IReadOnlyDictionary<string, int> Capacities => _days.Select(one => (one.Key, one.Value.Minutes)).Concat(_places.Select(one => (one.Key, one.Value))).ToDictionary(one => one.Key, one => one.Item2);

        public string[] Draws(Visit visit, CabinPlace place, Instant end)
        {
            return [.. DrawsOfDay(visit, place, end), Place(visit, place, Instant.MaxValue), .. end < visit.DepartsAt ? [Place(visit, place, end)] : Array.Empty<string>()];
        }

        /// <summary>The station's day that holds the middle of the stretch: a night's work is the morning's.</summary>
        public string[] DrawsOfDay(Visit visit, CabinPlace place, Instant? end = null)
        {
            var stretch = visit.LongestBetween(place, now, end ?? Instant.MaxValue) ?? (Instant.Max(visit.ArrivesAt, now), Instant.Max(visit.ArrivesAt, now));
            var day = (stretch.From + ((stretch.To - stretch.From) / 2)).InZone(_zones[visit.Station]).Date;
            var name = Name(visit.Station.Value, day);
            if (!_days.ContainsKey(name))
            {
                _days[name] = new StationDay(visit.Station.Value, day, Left(visit.Station, day));
            }

            return [name];
        }

        private string Place(Visit visit, CabinPlace place, Instant end)
        {
            var name = end == Instant.MaxValue ? $"{visit.Turn.Id.Value} {place}" : $"{visit.Turn.Id.Value} {place} until {end}";
            _places.TryAdd(name, visit.MinutesBetween(place, since, end));
            return name;
        }

        // Of today no more than the staffed minutes that are left.
        private int Left(StationCode code, LocalDate day)
        {
            var (station, zone) = (stations[code], _zones[code]);
            var (begins, ends) = (day.AtStartOfDayInZone(zone).ToInstant(), day.PlusDays(1).AtStartOfDayInZone(zone).ToInstant());
            var left = StaffedHours.Inside(station, zone, Instant.Max(begins, since), ends).Sum(one => (one.To - one.From).TotalMinutes);
            return (int)Math.Min(_minutes.GetValueOrDefault(code.Value, station.CarriedMinutes), left);
        }
    }

    internal static string Name(string station, LocalDate day) => $"{station} {day.ToString("uuuu-MM-dd", CultureInfo.InvariantCulture)}";
}
