using Drainboard.Data;
using Drainboard.Domain.Defects;
using Drainboard.Domain.Fleet;
using Drainboard.Domain.PotableWater;
using Drainboard.Domain.Tanks;
using Drainboard.Domain.Turns;
using Drainboard.Web.Features.Fleet;
using Drainboard.Web.Features.Items;
using Microsoft.EntityFrameworkCore;
using NodaTime;

namespace Drainboard.Web.Features.Tanks;

/// <summary>A balance of potable water and waste, from the tail's own services where there are any.</summary>
public sealed class TanksQuery(IDbContextFactory<DrainboardDb> factory, LayoutCatalog layouts, IClock clock)
{
    private const int ServicesRead = 60;
    private const int ServicesShown = 10;
    private const int SectorsShown = 6;

    public async Task<TanksView?> ReadAsync(Registration mark, CancellationToken stop)
    {
        await using var db = await factory.CreateDbContextAsync(stop);
        if (await db.Tails.AsNoTracking().SingleOrDefaultAsync(tail => tail.Registration == mark, stop) is not { } tail)
        {
            return null;
        }

        var (now, cabin) = (clock.GetCurrentInstant(), await layouts.GetAsync(tail.Layout, stop));
        var terms = await db.Installations.AsNoTracking().Select(installation => installation.Tanks).SingleOrDefaultAsync(stop) ?? TankTerms.Usual;
        var tanks = await db.LayoutTanks.AsNoTracking().SingleOrDefaultAsync(row => row.Layout == cabin.Code, stop);
        var uplifts = await db.PotableUplifts.AsNoTracking().Where(row => row.Tail == tail.Id).OrderByDescending(row => row.At).Take(ServicesRead).ToArrayAsync(stop);
        var emptied = await db.WasteServices.AsNoTracking().Where(row => row.Tail == tail.Id).OrderByDescending(row => row.At).Take(ServicesRead).ToArrayAsync(stop);
        var since = uplifts.Select(row => row.At).Concat(emptied.Select(row => row.At)).DefaultIfEmpty(now).Min();
        var sectors = await db.Sectors.AsNoTracking().Where(row => row.Tail == tail.Id && row.OnBlock > since).OrderBy(row => row.OffBlock).ToArrayAsync(stop);
        var flights = new TankFlights(sectors, cabin.Seats * terms.SeatsTaken, now);
        var outOf = await OutAsync(db, tail.Id, cabin, stop);
        var grey = cabin.Fixtures.Any(fixture => fixture.Kind == FixtureKind.GalleySink && cabin.Plumbing.DrainPath(fixture.Position) is [.., { Kind: FixtureKind.WasteTank }]);
        var here = Whereabouts.CurrentOrNext([.. await ItemDoor.TurnsAroundAsync(db, tail.Id, now, stop)], now)?.Station;
        var zone = here is { } code ? await db.Stations.AsNoTracking().Where(station => station.Code == code).Select(station => station.Zone).SingleOrDefaultAsync(stop) : null;
        return new TanksView(mark.Value, cabin.Code, zone ?? "Etc/UTC", now, terms.Risk, Potable(terms, tanks, uplifts, flights, cabin, outOf), Waste(terms, tanks, emptied, flights, cabin, outOf, grey));
    }

    private static TankView Potable(TankTerms terms, LayoutTanks? tanks, PotableUplift[] uplifts, TankFlights flights, CabinLayout cabin, HashSet<Position> outOf)
    {
        var use = UsePosterior.Prior(terms.PotablePerPassengerHour, terms.Worth, UsePosterior.GrainOf(terms.PotablePerDraw, terms.PotablePerDrawSd));
        var full = uplifts.Where(row => row.IsFull).OrderBy(row => row.At).ToArray();
        var measured = 0;
        foreach (var (before, after) in full.Zip(full.Skip(1)))
        {
            if (flights.Flown(before.At, after.At) is > 0 and var hours)
            {
                use = use.With(uplifts.Where(row => row.At > before.At && row.At <= after.At).Sum(row => row.Litres), hours);
                measured++;
            }
        }

        var (taps, toilets) = (InUse(cabin, outOf, SampleTaps.IsTap), InUse(cabin, outOf, kind => kind == FixtureKind.Toilet));
        var goesOn = use.Times(Math.Max(0.01, (toilets ? terms.RinseShare : 0) + (taps ? 1 - terms.RinseShare : 0)));
        var last = full is [.., var filled] ? filled : null;
        var since = last is null ? 0 : uplifts.Where(row => row.At > last.At).Sum(row => row.Litres);
        return View(goesOn, use, tanks?.PotableLitres, last?.At, flights, terms.Risk, measured, hours => TankOutlook.Potable(goesOn, tanks!.PotableLitres, tanks.PotableLitres + since, hours),
            [
                !taps ? "No tap is in use: only toilets' rinses draw." : !toilets ? "No toilet is in use: only taps draw." : outOf.Count > 0 ? "What is out is made up for by the others of its kind: in all as much is used." : "",
                $"{terms.SeatsTaken:0 %} of {cabin.Seats} seats; flights do not tell their passengers.",
            ],
            [.. uplifts.Take(ServicesShown).Select(row => new TankServiceLine(row.At, $"{row.Litres} L from {row.Source}{(row.IsFull ? ", full" : "")}{(row.Leak.Length > 0 ? $"; leak seen: {row.Leak}" : "")}", row.ByName))]);
    }

    private static TankView Waste(TankTerms terms, LayoutTanks? tanks, WasteService[] emptied, TankFlights flights, CabinLayout cabin, HashSet<Position> outOf, bool grey)
    {
        var perHour = terms.WastePerPassengerHour + (grey ? terms.GreyShare * terms.PotablePerPassengerHour : 0);
        var use = UsePosterior.Prior(perHour, terms.Worth, UsePosterior.GrainOf(terms.WastePerUse, terms.WastePerUseSd));
        var ordered = emptied.OrderBy(row => row.At).ToArray();
        var measured = 0;
        foreach (var (before, after) in ordered.Zip(ordered.Skip(1)))
        {
            if (after.LitresOut is { } litres && flights.Flown(before.At, after.At) is > 0 and var hours)
            {
                use = use.With(Math.Max(0, litres - before.PrechargeLitres), hours);
                measured++;
            }
        }

        var toilets = InUse(cabin, outOf, kind => kind == FixtureKind.Toilet);
        var goesOn = use.Times(Math.Max(0.01, toilets ? 1 : grey ? 1 - (terms.WastePerPassengerHour / perHour) : 0));
        var last = ordered is [.., var newest] ? newest : null;
        return View(goesOn, use, tanks?.WasteLitres, last?.At, flights, terms.Risk, measured, hours => TankOutlook.Waste(goesOn, tanks!.WasteLitres, last!.PrechargeLitres, hours),
            [
                grey ? "Grey water of sinks and basins goes into this tank." : "Grey water of sinks and basins leaves overboard.",
                !toilets ? "No toilet is in use." : outOf.Count > 0 ? "A toilet out changes nothing in all: its passengers go to the others." : "",
            ],
            [.. emptied.Take(ServicesShown).Select(row => new TankServiceLine(row.At, $"{(row.LitresOut is { } litres ? $"{litres} L out" : "emptied")}, pre-charged with {row.PrechargeLitres} L{(row.Leak.Length > 0 ? $"; leak seen: {row.Leak}" : "")}", row.ByName))]);
    }

    private static TankView View(UsePosterior goesOn, UsePosterior known, int? capacity, Instant? since, TankFlights flights, double risk, int measured, Func<double, TankPoint> at, string[] rule, IReadOnlyList<TankServiceLine> services)
    {
        var isKnown = capacity is not null && since is not null;
        var next = isKnown ? flights.Ahead(since!.Value, SectorsShown).Select(one => new TankSector(one.Sector.From.Value, one.Sector.To.Value, one.Sector.OffBlock, (one.Sector.OnBlock - one.Sector.OffBlock).TotalHours, at(one.PassengerHours))).ToArray() : [];
        // Under way it cannot be serviced any more: the sector after it is the first that can be kept from.
        var first = Array.FindIndex(next, sector => sector.After.Chance > risk && sector.OffBlock > flights.Now);
        return new TankView(capacity, since, isKnown ? at(flights.Since(since!.Value)) : null, next, first < 0 ? null : first, goesOn.Mean, known.Quantile(0.1) * goesOn.Mean / known.Mean, known.Quantile(0.9) * goesOn.Mean / known.Mean, measured, [.. rule.Where(words => words.Length > 0)], services);
    }

    private static bool InUse(CabinLayout cabin, HashSet<Position> outOf, Func<FixtureKind, bool> kind) => cabin.Fixtures.Any(fixture => kind(fixture.Kind) && !outOf.Contains(fixture.Position));

    private static async Task<HashSet<Position>> OutAsync(DrainboardDb db, TailId tail, CabinLayout cabin, CancellationToken stop)
    {
        var used = cabin.Fixtures.Where(fixture => fixture.Kind == FixtureKind.Toilet || SampleTaps.IsTap(fixture.Kind)).Select(fixture => fixture.Position).ToHashSet();
        var active = await db.Defects.AsNoTracking().Where(defect => defect.Tail == tail && defect.State != DefectState.Closed && defect.State != DefectState.Reported).Select(defect => new { defect.Position, defect.Symptom, defect.State }).ToArrayAsync(stop);
        return [.. active.Where(defect => used.Contains(defect.Position) && (defect.State == DefectState.Deferred || defect.Symptom is Symptom.DoesNotFlush or Symptom.DoesNotDrain or Symptom.Leaks or Symptom.Overflows or Symptom.BacksUp)).Select(defect => defect.Position)];
    }
}
