using Drainboard.Domain.Fleet;
using Drainboard.Domain.Plumbing;
using NodaTime;

namespace Drainboard.Web.Features.SetUp;

/// <summary>Stations, layouts with their fixtures and pipes, tails and their deviations.</summary>
internal static class FleetImport
{
    public static void Read(ImportSource source, ImportWork work, List<ImportFault> faults)
    {
        ReadStations(source, work);
        ReadLayouts(source, work, faults);
        ReadTails(source, work);
    }

    private static void ReadStations(ImportSource source, ImportWork work)
    {
        foreach (var row in source.Rows("stations"))
        {
            var zone = row.Needed("zone");
            if (zone.Length > 0 && DateTimeZoneProviders.Tzdb.GetZoneOrNull(zone) is null)
            {
                row.Fault("zone", $"\"{zone}\" is not an IANA time zone: write it as Europe/Lisbon or Asia/Tokyo.");
            }

            if (row.Station("code") is not { } code)
            {
                continue;
            }

            var station = work.Stations.GetValueOrDefault(code);
            var name = row.Needed("name");
            var able = row.Has("capabilities") ? row.Many("capabilities") : station?.Capabilities ?? [];
            var from = row.Has("staffedFrom") ? row.Time("staffedFrom") : station?.StaffedFrom ?? LocalTime.Midnight;
            var to = row.Has("staffedTo") ? row.Time("staffedTo") : station?.StaffedTo ?? LocalTime.Midnight;
            var slow = row.Has("slowPercent") ? row.NumberNeeded("slowPercent", 1, 100) : station?.SlowPercent ?? Station.UsualSlowPercent;
            var carried = row.Has("carriedMinutes") ? row.NumberNeeded("carriedMinutes", 0, 100_000) : station?.CarriedMinutes ?? Station.UsualCarriedMinutes;
            if (station is not null)
            {
                work.Seen("stations", station.Set(name, zone, able, from, to, slow, carried));
            }
            else
            {
                work.Add("stations", work.Stations[code] = new Station(code, name, zone, able, from, to, slow, carried));
            }
        }
    }

    private static void ReadLayouts(ImportSource source, ImportWork work, List<ImportFault> faults)
    {
        var fixtures = source.Rows("fixtures").Select(row => (Key: KeyOf(row, "layout"), Fixture: ReadFixture(row), Row: row)).ToLookup(one => one.Key);
        var pipes = source.Rows("connections").Select(row => (Key: KeyOf(row, "layout"), Pipe: ReadPipe(row), Row: row)).ToLookup(one => one.Key);
        var classes = source.Rows("classes").Select(row => (Key: KeyOf(row, "layout"), Class: ReadClass(row), Row: row)).ToLookup(one => one.Key);
        var listed = new HashSet<(string, int)>();
        foreach (var row in source.Rows("layouts"))
        {
            var key = KeyOf(row, "code");
            if (!listed.Add(key))
            {
                row.Fault("version", $"Layout {key.Code} version {key.Version} is listed twice.");
                continue;
            }

            var drawn = fixtures[key].Select(one => one.Fixture).OfType<Fixture>().ToArray();
            var connections = pipes[key].Select(one => one.Pipe).OfType<Connection>().ToArray();
            if (drawn.Length == 0)
            {
                row.Fault(null, $"Layout {key.Code} version {key.Version} has no fixtures. List them in fixtures.");
            }

            var layout = new CabinLayout(new LayoutId(work.NewId()), key.Code, key.Version, row.Needed("name"), row.NumberNeeded("seats", 0, 900), drawn, connections, classes[key].Select(one => one.Class));
            foreach (var fault in PlumbingRules.Check(drawn, connections))
            {
                faults.Add(new ImportFault("layouts", null, null, $"Layout {key.Code} version {key.Version}: {fault.Words}"));
            }

            foreach (var fault in CabinClass.Faults(layout.Classes, layout.Seats))
            {
                faults.Add(new ImportFault("classes", null, null, $"Layout {key.Code} version {key.Version}: {fault}"));
            }

            Keep(work, row, key, layout);
        }

        foreach (var (row, key) in fixtures.SelectMany(group => group).Select(one => (one.Row, one.Key)).Concat(pipes.SelectMany(group => group).Select(one => (one.Row, one.Key))).Concat(classes.SelectMany(group => group).Select(one => (one.Row, one.Key))).Where(one => !listed.Contains(one.Key)))
        {
            row.Fault("layout", $"Layout {key.Code} version {key.Version} is not in layouts. A stored version never changes: list the layout with a new version number.");
        }
    }

    private static void Keep(ImportWork work, ImportRow row, (string Code, int Version) key, CabinLayout layout)
    {
        if (!work.Layouts.TryGetValue(key, out var stored))
        {
            if (layout.WhyNotAfter(work.Layouts.Where(one => one.Key.Code == key.Code).Select(one => one.Value)) is { } reused)
            {
                row.Fault("version", reused.Words);
            }

            work.Add("layouts", work.Layouts[key] = layout);
        }
        else if (stored.IsSameDrawing(layout))
        {
            work.Seen("layouts", false);
        }
        else
        {
            row.Fault("version", $"Layout {key.Code} version {key.Version} is stored with another drawing. A stored version never changes: give this one version {work.Layouts.Keys.Where(one => one.Code == key.Code).Max(one => one.Version) + 1}.");
        }
    }

    private static void ReadTails(ImportSource source, ImportWork work)
    {
        var deviations = source.Rows("deviations").Select(row => (Mark: row.Mark("registration"), Deviation: ReadDeviation(row), Row: row)).ToLookup(one => one.Mark);
        var listed = new HashSet<Registration?>();
        foreach (var row in source.Rows("tails"))
        {
            var key = KeyOf(row, "layout");
            if (row.Mark("registration") is not { } mark)
            {
                continue;
            }

            listed.Add(mark);
            if (!work.Layouts.TryGetValue(key, out var layout))
            {
                row.Fault("layout", $"Layout {key.Code} version {key.Version} is neither stored nor in this import.");
                continue;
            }

            foreach (var (_, deviation, at) in deviations[mark].Where(one => one.Deviation is { } own && layout.Find(own.Position) is null))
            {
                at.Fault("position", $"Layout {key.Code} has no fixture at {deviation!.Position}.");
            }

            var own = deviations[mark].Select(one => one.Deviation).OfType<Deviation>();
            var known = work.Tails.GetValueOrDefault(mark);
            var deliveredOn = row.Has("deliveredOn") ? row.Day("deliveredOn") : known?.DeliveredOn;
            if (known is { } tail)
            {
                work.Seen("tails", tail.Set(layout.Id, own, deliveredOn));
            }
            else
            {
                work.Add("tails", work.Tails[mark] = new Tail(new TailId(work.NewId()), mark, layout.Id, own, deliveredOn));
            }
        }

        foreach (var (mark, _, row) in deviations.SelectMany(group => group).Where(one => !listed.Contains(one.Mark)))
        {
            row.Fault("registration", $"{mark} is not in tails. List the tail with its deviations.");
        }
    }

    private static (string Code, int Version) KeyOf(ImportRow row, string column) => (row.Needed(column, 12).ToUpperInvariant(), row.NumberNeeded("version", 1, 999));

    private static Fixture? ReadFixture(ImportRow row)
    {
        row.Needed("kind");
        var (name, area, along, across) = (row.Needed("name", 60), row.Needed("area", 30), row.Number("along", 0, 100) ?? 50, row.Number("across", 0, 100) ?? 50);
        return row.Place("position") is { } position && row.Choice<FixtureKind>("kind") is { } kind ? new Fixture(position, kind, name, area, along, across, row.Text("access"), kind == FixtureKind.Toilet && row.YesNo("accessible", false)) : null;
    }

    private static CabinClass ReadClass(ImportRow row) => new(row.Needed("name", CabinClass.LongestName), row.NumberNeeded("seats", 1, 900), row.NumberNeeded("from", 0, 100), row.NumberNeeded("to", 0, 100));

    private static Connection? ReadPipe(ImportRow row)
    {
        row.Needed("water");
        return row.Choice<Water>("water") is { } water && row.Place("from") is { } from && row.Place("to") is { } to ? new Connection(water, from, to) : null;
    }

    private static Deviation? ReadDeviation(ImportRow row) => row.Place("position") is { } position ? new Deviation(position, row.Needed("words")) : null;
}
