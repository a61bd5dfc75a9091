using Drainboard.Data;
using Drainboard.Domain.Defects;
using Drainboard.Domain.Fleet;
using Drainboard.Domain.Turns;
using Drainboard.Web.Features.Cards;
using Drainboard.Web.Features.Fleet;
using Drainboard.Web.Features.Live;
using Drainboard.Web.Features.PlannedChecks;
using Drainboard.Web.Features.PotableWater;
using Drainboard.Web.Features.TurnFit;
using Microsoft.EntityFrameworkCore;
using NodaTime;

namespace Drainboard.Web.Features.Board;

/// <summary>
/// Reads a station's Board in ten statements (a few more where the operator asks for planned checks, a tail stands past its estimate or a part has no release certificate), whatever the number of tails: whether anything was written since the last reading, the station, the installation, the stays, the
/// tails, what is not closed on them with what carries it and what is disturbed, cards that are begun, parts on a limit, water that is not served, planned checks; the flights of tails with reports to sort, where there are any. Closed history is never touched.
/// </summary>
public sealed class BoardQuery(IDbContextFactory<DrainboardDb> factory, LayoutCatalog layouts, FleetJobs jobs, Rounds walks, IClock clock)
{
    /// <summary>More than an airline has stations.</summary>
    private const int MostBoards = 200;

    private readonly SharedReading<BoardView?> _shared = new(factory, clock, MostBoards);

    public static readonly Duration LooksAhead = Duration.FromHours(12);
    private static readonly Duration SectorsLookBack = Duration.FromDays(3);

    /// <summary>The Board as it is; everybody who has it open shares one reading of it.</summary>
    public Task<BoardView?> ReadAsync(StationCode code, CancellationToken stop) => _shared.GetAsync(code, (db, now) => ReadAsync(db, code, now, CancellationToken.None), stop);

    private async Task<BoardView?> ReadAsync(DrainboardDb db, StationCode code, Instant now, CancellationToken stop)
    {
        var station = await db.Stations.AsNoTracking().SingleOrDefaultAsync(station => station.Code == code, stop);
        if (station is null)
        {
            return null;
        }

        var mode = await db.Installations.AsNoTracking().Select(installation => installation.Mode).SingleAsync(stop);
        var stays = await StationStays.ReadAsync(db, code, now, stop);
        var ids = stays.Select(turn => turn.Tail).ToArray();
        var tails = await db.Tails.AsNoTracking().Where(tail => ids.Contains(tail.Id)).ToDictionaryAsync(tail => tail.Id, stop);
        var drawn = new Dictionary<TailId, CabinLayout>();
        foreach (var tail in tails.Values)
        {
            drawn[tail.Id] = await layouts.GetAsync(tail.Layout, stop);
        }

        var book = await jobs.GetAsync(stop);
        var zone = DateTimeZoneProviders.Tzdb[station.Zone];
        var visits = stays.ToDictionary(turn => turn.Tail, turn => Visit.Of(turn, station, zone, now, book.Terms));
        var items = await ItemLines.ReadAsync(db, drawn, new Fitting(book, visits), now, stop);
        var parts = await db.Parts.AsNoTracking().OnLimit().Where(part => ids.Contains(part.Tail)).ToArrayAsync(stop);
        var clocks = await PartClocks.ReadAsync(db, parts, now, stop);
        var lapsed = parts.Where(part => clocks[part.Id].HasLapsed(now)).ToLookup(part => part.Tail, part => new LapsedPart(part.Defect.Value, part.Name));
        var water = await WaterRestrictions.ReadAsync(db, ids, now, stop);
        var rounds = await walks.ReadAsync(db, [.. stays.Select(turn => new RoundOf(tails[turn.Tail], drawn[turn.Tail], visits[turn.Tail], station.SlowPercent))], Duration.FromMinutes(book.Terms.PaperworkMinutes), now, stop);
        var sectors = await SectorsAsync(db, items, now, stop);
        var cards = stays.OrderBy(turn => turn.DepartsAt).ThenBy(turn => tails[turn.Tail].Registration.Value, StringComparer.Ordinal)
            .Select(turn => new BoardCard(tails[turn.Tail].Registration.Value, drawn[turn.Tail].Code, TurnView.Of(turn, now), [.. items[turn.Tail]], [.. lapsed[turn.Tail]], Groups([.. items[turn.Tail]], sectors[turn.Tail]), TogetherView.Of([.. items[turn.Tail].Where(item => item.State is DefectState.Open or DefectState.Reported).Select(item => item.Fit).OfType<FitView>()]), water.GetValueOrDefault(turn.Tail), RoundCount.Of(rounds.GetValueOrDefault(turn.Tail), now)));
        return new BoardView(code.Value, station.Name, station.Zone, now, mode, [.. cards]);
    }

    /// <summary>The flights on which what is not sorted yet was seen. Nothing is read where nothing is to be sorted.</summary>
    private static async Task<ILookup<TailId, Sector>> SectorsAsync(DrainboardDb db, ILookup<TailId, ItemLine> items, Instant now, CancellationToken stop)
    {
        var about = items.Where(tail => tail.Any(item => item.State == DefectState.Reported)).Select(tail => tail.Key).ToArray();
        var since = now - SectorsLookBack;
        return (about.Length == 0 ? [] : await db.Sectors.AsNoTracking().Where(sector => about.Contains(sector.Tail) && sector.OnBlock > since && sector.OffBlock <= now).ToArrayAsync(stop)).ToLookup(sector => sector.Tail);
    }

    private static IReadOnlyList<ReportGroup> Groups(ItemLine[] items, IEnumerable<Sector> sectors) =>
    [
        .. from item in items
           where item.State == DefectState.Reported
           let sector = sectors.FirstOrDefault(sector => sector.OffBlock <= item.SeenAt && item.SeenAt <= sector.OnBlock)
           group item by (item.Position, item.FixtureName, Sector: sector is null ? null : $"{sector.From} to {sector.To}") into here
           let standing = items.Where(other => other.Position == here.Key.Position && other.State is (DefectState.Open or DefectState.Deferred)).OrderBy(other => other.Number)
           select new ReportGroup(here.Key.FixtureName, here.Key.Sector, [.. here.OrderBy(item => item.Number)], [.. standing]),
    ];
}
