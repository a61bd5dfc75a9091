using Drainboard.Data;
using Drainboard.Domain.Fleet;
using Drainboard.Domain.Turns;
using Microsoft.EntityFrameworkCore;
using NodaTime;

namespace Drainboard.Web.Features.SetUp;

/// <summary>Turns and sectors by their outside keys: sent again with other times, they are delayed, not doubled.</summary>
internal static class TurnsImport
{
    public static void Read(ImportSource source, ImportWork work)
    {
        foreach (var row in source.Rows("turns"))
        {
            ReadTurn(row, work);
        }

        foreach (var row in source.Rows("sectors"))
        {
            ReadSector(row, work);
        }
    }

    /// <summary>An aircraft is on one flight at a time: looks at the flights read together with those stored around them.</summary>
    public static async Task CheckFlightsAsync(DrainboardDb db, ImportSource source, ImportWork work, CancellationToken stop)
    {
        var rows = source.Rows("sectors").Select(row => (Row: row, Sector: work.Sectors.GetValueOrDefault(row.Text("key")))).Where(one => one.Sector is not null).DistinctBy(one => one.Sector).ToDictionary(one => one.Sector!, one => one.Row);
        foreach (var ofTail in rows.Keys.GroupBy(sector => sector.Tail))
        {
            var (from, to) = (ofTail.Min(sector => sector.OffBlock), ofTail.Max(sector => sector.OnBlock));
            var stored = await db.Sectors.Where(sector => sector.Tail == ofTail.Key && sector.OffBlock < to && sector.OnBlock > from).ToArrayAsync(stop);
            foreach (var (first, second) in SectorRules.Overlaps(stored.Where(sector => sector.Tail == ofTail.Key).Union(ofTail), sector => sector.OffBlock, sector => sector.OnBlock).Where(pair => rows.ContainsKey(pair.First) || rows.ContainsKey(pair.Second)))
            {
                var (row, other) = rows.TryGetValue(second, out var own) ? (own, first) : (rows[first], second);
                row.Fault("offBlock", $"Overlaps with sector {other.Key} of the same tail. An aircraft is on one flight at a time.");
            }
        }
    }

    private static void ReadTurn(ImportRow row, ImportWork work)
    {
        var key = row.Needed("key", 64);
        var stored = work.Turns.GetValueOrDefault(key);
        var times = new TurnTimes(
            row.Has("stand") ? row.Text("stand", TurnTimes.LongestStand) : stored?.Stand ?? "",
            row.AtNeeded("estimatedArrival"),
            row.AtNeeded("estimatedDeparture"),
            row.Has("onBlocks") ? row.At("onBlocks") : stored?.OnBlocks,
            row.Has("offBlocks") ? row.At("offBlocks") : stored?.OffBlocks);
        if (times.WhyNot() is { } no)
        {
            row.Fault(null, no.Words);
        }

        if (TailOf(row, work) is not { } tail || StationOf(row, "station", work) is not { } station)
        {
            return;
        }

        if (stored is not null)
        {
            work.Seen("turns", stored.Set(tail.Id, station, times));
        }
        else
        {
            work.Add("turns", work.Turns[key] = new Turn(new TurnId(work.NewId()), key, tail.Id, station, times));
        }
    }

    private static void ReadSector(ImportRow row, ImportWork work)
    {
        var (off, on) = (row.AtNeeded("offBlock"), row.AtNeeded("onBlock"));
        if (on <= off)
        {
            row.Fault("onBlock", "Is not after off block.");
        }

        var minutes = row.Number("flightMinutes", 0, 2000) ?? (int)(on - off).TotalMinutes;
        var flown = row.YesNo("flown", on <= work.Now);
        if (flown && on > work.Now)
        {
            row.Fault("flown", "On block lies in the future: it is not flown yet.");
        }

        if (on > off && Duration.FromMinutes(minutes) > on - off)
        {
            row.Fault("flightMinutes", "Is more than the time between the blocks.");
        }

        var key = row.Needed("key", 64);
        if (TailOf(row, work) is not { } tail || StationOf(row, "from", work) is not { } from || StationOf(row, "to", work) is not { } to)
        {
            return;
        }

        if (tail.WhyNotAt(off) is { } early)
        {
            row.Fault("offBlock", early.Words);
        }

        var plan = new SectorPlan(from, to, off, on, minutes, flown);
        if (work.Sectors.TryGetValue(key, out var sector))
        {
            work.Seen("sectors", sector.Set(tail.Id, plan));
        }
        else
        {
            work.Add("sectors", work.Sectors[key] = new Sector(new SectorId(work.NewId()), key, tail.Id, plan));
        }
    }

    private static Tail? TailOf(ImportRow row, ImportWork work)
    {
        if (row.Mark("tail") is not { } mark)
        {
            return null;
        }

        if (!work.Tails.TryGetValue(mark, out var tail))
        {
            row.Fault("tail", $"{mark} is neither stored nor in this import.");
        }

        return tail;
    }

    private static StationCode? StationOf(ImportRow row, string column, ImportWork work)
    {
        if (row.Station(column) is not { } code)
        {
            return null;
        }

        if (work.Stations.ContainsKey(code))
        {
            return code;
        }

        row.Fault(column, $"{code} is neither stored nor in this import.");
        return null;
    }
}
