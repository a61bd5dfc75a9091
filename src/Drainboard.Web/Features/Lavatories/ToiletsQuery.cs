using Drainboard.Data;
using Drainboard.Domain.Defects;
using Drainboard.Domain.Fleet;
using Drainboard.Domain.Lavatories;
using Drainboard.Domain.Turns;
using Drainboard.Web.Features.Fleet;
using Drainboard.Web.Features.Turns;
using Microsoft.EntityFrameworkCore;
using NodaTime;

namespace Drainboard.Web.Features.Lavatories;

/// <summary>The toilets of one part of the cabin.</summary>
public sealed record ToiletArea(string Area, int Installed, int InService);

/// <summary>One class of seats, and the toilets of its stretch of the cabin.</summary>
/// <param name="Using">How many passengers use them: its own, and those of classes that have none in service.</param>
/// <param name="GoTo">Where its passengers go, where none of its own is in service.</param>
/// <param name="Now">Null where none of its own is in service.</param>
public sealed record ToiletClass(string Name, int Seats, int Installed, int InService, int Using, string? GoTo, WaitingView? Now);

/// <summary>A flight ahead, and what all passengers together wait on it.</summary>
/// <param name="PassengerMinutes">Null where no toilet is in service.</param>
/// <param name="AllInOrder">The same with every toilet in service.</param>
/// <param name="Peaks">When most come, after its meals.</param>
/// <param name="Minimum">The operator's minimum that it would break, in words; null: none.</param>
/// <param name="Forbidden">That minimum forbids the departure.</param>
public sealed record ToiletSector(string From, string To, Instant OffBlock, double Hours, double? PassengerMinutes, double AllInOrder, IReadOnlyList<ToiletPeak> Peaks, string? Minimum, bool Forbidden);

public sealed record ToiletPeak(Instant From, Instant To);

/// <summary>A tail's toilets: how many are in service, and what waiting that means on its next flights.</summary>
/// <param name="Passengers">As many as there are seats.</param>
/// <param name="Now">Null where none is in service.</param>
/// <param name="OneFewer">With one more out; null where none would be left.</param>
public sealed record ToiletsView(int Passengers, int Installed, int InService, int AccessibleInstalled, int AccessibleInService, IReadOnlyList<ToiletArea> Areas, WaitingView? Now, WaitingView AllInOrder, WaitingView? OneFewer, IReadOnlyList<ToiletSector> Next, LavatoryTerms Terms, IReadOnlyList<ToiletClass> Classes);

/// <summary>Toilets out and what it means. One counts as out once a report is taken over as a defect, until it is released.</summary>
public sealed class ToiletsQuery(IDbContextFactory<DrainboardDb> factory, LayoutCatalog layouts, IClock clock)
{
    private const int SectorsShown = 3;

    /// <returns>Null where there is no such tail, or it has no toilet.</returns>
    public async Task<ToiletsView?> ReadAsync(Registration mark, CancellationToken stop)
    {
        await using var db = await factory.CreateDbContextAsync(stop);
        var tail = await db.Tails.AsNoTracking().SingleOrDefaultAsync(tail => tail.Registration == mark, stop);
        if (tail is null)
        {
            return null;
        }

        var (cabin, now) = (await layouts.GetAsync(tail.Layout, stop), clock.GetCurrentInstant());
        var set = await db.Installations.AsNoTracking().Select(installation => new { installation.Lavatories, installation.ToiletMinimums }).SingleOrDefaultAsync(stop);
        var (terms, minimums) = (set?.Lavatories ?? LavatoryTerms.Usual, set?.ToiletMinimums ?? []);
        var toilets = cabin.Fixtures.Where(fixture => fixture.Kind == FixtureKind.Toilet).ToArray();
        if (toilets.Length == 0 || CabinWaiting.Of(cabin.Seats, toilets.Length, terms) is not { } whole)
        {
            return null;
        }

        var down = await OutAsync(db, tail.Id, cabin, stop);
        var count = ToiletCount.Of(cabin, down);
        var here = CabinWaiting.Of(cabin.Seats, count.InService, terms);
        var sectors = await Flights.AheadAsync(db, tail.Id, now, SectorsShown, stop);
        return new ToiletsView(
            cabin.Seats, count.Installed, count.InService, count.AccessibleInstalled, count.AccessibleInService,
            [.. toilets.OrderBy(toilet => toilet.Along).GroupBy(toilet => toilet.Area).Select(area => new ToiletArea(area.Key, area.Count(), area.Count(toilet => !down.Contains(toilet.Position))))],
            WaitingView.Of(here), WaitingView.Of(whole)!, WaitingView.Of(CabinWaiting.Of(cabin.Seats, count.InService - 1, terms)),
            [.. sectors.Select(sector => Ahead(sector, cabin, count, here, whole, minimums, terms))], terms,
            [.. ClassWaiting.Of(cabin, down, terms).Select(one => new ToiletClass(one.Name, one.Seats, one.Installed, one.InService, one.Using, one.GoTo, WaitingView.Of(one.Waiting)))]);
    }

    private static ToiletSector Ahead(Sector sector, CabinLayout cabin, ToiletCount count, CabinWaiting? here, CabinWaiting whole, IReadOnlyList<ToiletMinimum> minimums, LavatoryTerms terms)
    {
        var (hours, broken) = ((sector.OnBlock - sector.OffBlock).TotalHours, NextSector.Broken(minimums, cabin, sector, count));
        Instant At(double after) => sector.OffBlock + Duration.FromMinutes(Math.Round(60 * after));
        return new ToiletSector(sector.From.Value, sector.To.Value, sector.OffBlock, hours, here?.PassengerMinutes(hours), whole.PassengerMinutes(hours), [.. CabinWaiting.Peaks(hours, terms).Select(peak => new ToiletPeak(At(peak.From), At(peak.To)))], broken?.Words, broken?.Rule.Forbids == true);
    }

    /// <summary>What it means if one toilet is carried as it is, in words; null for any other fixture.</summary>
    internal static async Task<string?> CostAsync(DrainboardDb db, TailId tail, CabinLayout cabin, Fixture fixture, CancellationToken stop)
    {
        if (fixture.Kind != FixtureKind.Toilet || cabin.Seats < 1)
        {
            return null;
        }

        var installed = cabin.Fixtures.Count(other => other.Kind == FixtureKind.Toilet);
        var down = await OutAsync(db, tail, cabin, stop);
        down.Add(fixture.Position);
        var terms = await TermsAsync(db, stop);
        var (with, without) = (WaitingView.Of(CabinWaiting.Of(cabin.Seats, installed - down.Count, terms)), WaitingView.Of(CabinWaiting.Of(cabin.Seats, installed - down.Count + 1, terms)));
        return with is null ? "No toilet is in service then." : $"With it out {with.InService} of {installed} are in service: {with.Words}. With it in service: {without!.Words}. A full cabin; weak figures.";
    }

    private static async Task<LavatoryTerms> TermsAsync(DrainboardDb db, CancellationToken stop) => await db.Installations.AsNoTracking().Select(installation => installation.Lavatories).SingleOrDefaultAsync(stop) ?? LavatoryTerms.Usual;

    internal static async Task<HashSet<Position>> OutAsync(DrainboardDb db, TailId tail, CabinLayout cabin, CancellationToken stop)
    {
        var toilets = cabin.Fixtures.Where(fixture => fixture.Kind == FixtureKind.Toilet).Select(fixture => fixture.Position).ToArray();
        return [.. await db.Defects.AsNoTracking().Where(defect => defect.Tail == tail && defect.State != DefectState.Closed && defect.State != DefectState.Reported && toilets.Contains(defect.Position)).Select(defect => defect.Position).ToArrayAsync(stop)];
    }
}
