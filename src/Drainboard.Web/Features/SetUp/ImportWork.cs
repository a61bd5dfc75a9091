using Drainboard.Data;
using Drainboard.Data.Accounts;
using Drainboard.Domain;
using Drainboard.Domain.Deferrals;
using Drainboard.Domain.Fleet;
using Drainboard.Domain.Turns;
using Microsoft.EntityFrameworkCore;
using NodaTime;

namespace Drainboard.Web.Features.SetUp;

/// <summary>
/// What one import reads against and adds to: everything already stored that its rows may name, tracked, so that what a row
/// changes is saved with the rest, or nothing is.
/// </summary>
internal sealed class ImportWork(DrainboardDb db, Instant now)
{
    private readonly Dictionary<string, (int Added, int Changed, int Same)> _counts = [];

    public Instant Now { get; } = now;

    public required Dictionary<StationCode, Station> Stations { get; init; }

    public required Dictionary<(string Code, int Version), CabinLayout> Layouts { get; init; }

    public required Dictionary<Registration, Tail> Tails { get; init; }

    public required Dictionary<string, Person> People { get; init; }

    public required Dictionary<(BasisKind Kind, string Code), DeferralBasis> Bases { get; init; }

    public required Dictionary<string, Turn> Turns { get; init; }

    public required Dictionary<string, Sector> Sectors { get; init; }

    public IReadOnlyList<ImportCount> Counts => [.. ImportTable.All.Where(table => _counts.ContainsKey(table.Name)).Select(table => new ImportCount(table.Name, _counts[table.Name].Added, _counts[table.Name].Changed, _counts[table.Name].Same))];

    public static async Task<ImportWork> BeginAsync(DrainboardDb db, ImportSource source, Instant now, CancellationToken stop)
    {
        var turnKeys = source.Rows("turns").Select(row => row.Text("key")).ToArray();
        var sectorKeys = source.Rows("sectors").Select(row => row.Text("key")).ToArray();
        return new ImportWork(db, now)
        {
            Stations = await db.Stations.ToDictionaryAsync(station => station.Code, stop),
            Layouts = (await db.Layouts.ToArrayAsync(stop)).ToDictionary(layout => (layout.Code, layout.Version)),
            Tails = await db.Tails.ToDictionaryAsync(tail => tail.Registration, stop),
            People = (await db.Users.ToArrayAsync(stop)).ToDictionary(person => person.NormalizedUserName!),
            Bases = (await db.Bases.ToArrayAsync(stop)).ToDictionary(basis => (basis.Kind, basis.Code)),
            Turns = (await ReadByKeyAsync(turnKeys, keys => db.Turns.Where(turn => keys.Contains(turn.Key)), stop)).ToDictionary(turn => turn.Key),
            Sectors = (await ReadByKeyAsync(sectorKeys, keys => db.Sectors.Where(sector => keys.Contains(sector.Key)), stop)).ToDictionary(sector => sector.Key),
        };
    }

    public Guid NewId() => Domain.NewId.At(Now);

    public void Add(string table, object entity)
    {
        db.Add(entity);
        Count(table, added: 1);
    }

    public void Seen(string table, bool changed) => Count(table, changed: changed ? 1 : 0, same: changed ? 0 : 1);

    private void Count(string table, int added = 0, int changed = 0, int same = 0)
    {
        var count = _counts.GetValueOrDefault(table);
        _counts[table] = (count.Added + added, count.Changed + changed, count.Same + same);
    }

    // A statement holds only so many parameters.
    private static async Task<List<T>> ReadByKeyAsync<T>(string[] keys, Func<string[], IQueryable<T>> read, CancellationToken stop)
    {
        var found = new List<T>();
        foreach (var some in keys.Distinct().Chunk(500))
        {
            found.AddRange(await read(some).ToArrayAsync(stop));
        }

        return found;
    }
}
