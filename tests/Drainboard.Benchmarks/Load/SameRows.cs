using Drainboard.Data;
using Microsoft.EntityFrameworkCore;

namespace Drainboard.Benchmarks.Load;

/// <summary>
/// The bare statements that write the rows of one transaction again, with other keys: an insert for each row that it added, an update for each that it
/// changed. What has to be read and worked out before is not in them.
/// </summary>
internal sealed class SameRows
{
    private const int Keys = 40;

    private readonly List<Added> _added = [];
    private readonly List<Changed> _changed = [];

    /// <summary>How many rows it writes.</summary>
    public int Count => _added.Count + _changed.Count;

    /// <summary>By the transaction that wrote a row on PostgreSQL. The rows of a kind that were there before it are changed by it, the others added.</summary>
    /// <param name="where">Finds that row.</param>
    /// <param name="before">How many rows every table had before.</param>
    public static async Task<SameRows> OfAsync(DrainboardDb db, string table, string where, IReadOnlyDictionary<string, long> before)
    {
        var made = new SameRows();
        var writer = (await AskAsync<string>(db, $"SELECT xmin::text AS \"Value\" FROM \"{table}\" WHERE {where}"))[0];
        foreach (var (other, rows) in await CountsAsync(db, $"xmin::text = '{writer}'"))
        {
            var added = (await CountAsync(db, other, "true")) - before[other];
            for (var row = 0; row < rows; row++)
            {
                await made.AddAsync(db, other, added: row < added);
            }
        }

        return made;
    }

    /// <summary>How many rows of each table fulfil something; none are left out where nothing is asked.</summary>
    public static async Task<IReadOnlyDictionary<string, long>> CountsAsync(DrainboardDb db, string? where = null)
    {
        var counts = new Dictionary<string, long>();
        foreach (var table in await AskAsync<string>(db, "SELECT tablename::text AS \"Value\" FROM pg_tables WHERE schemaname = 'public' AND tablename NOT LIKE 'bench%' AND tablename NOT LIKE '\\_%' ORDER BY 1"))
        {
            counts[table] = await CountAsync(db, table, where ?? "true");
        }

        return where is null ? counts : counts.Where(count => count.Value > 0).ToDictionary();
    }

    /// <summary>Keeps a sample of every row, and some keys, beside the tables. Both databases. Numbers go down from zero: the service counts up from the greatest.</summary>
    public async Task PrepareAsync(DrainboardDb db)
    {
        var postgres = db.Database.IsNpgsql();
        if (postgres)
        {
            await DoAsync(db, "CREATE SEQUENCE bench_number INCREMENT -1 MINVALUE -2000000000");
        }

        foreach (var one in _added)
        {
            await DoAsync(db, $"CREATE TABLE \"bench_{one.Table}\" AS SELECT * FROM \"{one.Table}\" ORDER BY {(postgres ? "xmin::text::bigint" : "rowid")} DESC LIMIT 1");
        }

        foreach (var one in _changed)
        {
            await DoAsync(db, $"CREATE TABLE \"bench_keys_{one.Table}\" AS SELECT row_number() OVER () AS n, \"{one.Key}\" AS key FROM \"{one.Table}\" LIMIT {Keys}");
            await DoAsync(db, $"CREATE UNIQUE INDEX \"bench_index_{one.Table}\" ON \"bench_keys_{one.Table}\" (n)");
        }
    }

    /// <summary>Takes the samples away again.</summary>
    public async Task ClearAsync(DrainboardDb db)
    {
        if (db.Database.IsNpgsql())
        {
            await DoAsync(db, "DROP SEQUENCE bench_number");
        }

        foreach (var table in _added.Select(one => $"bench_{one.Table}").Concat(_changed.Select(one => $"bench_keys_{one.Table}")))
        {
            await DoAsync(db, $"DROP TABLE \"{table}\"");
        }
    }

    /// <summary>As a script for pgbench.</summary>
    public string Script() => string.Join('\n', [$"\\set k random(1, {Keys})", "BEGIN;", .. Statements(":k", "nextval('bench_number')", "gen_random_uuid()", "md5(random()::text)").Select(sql => sql + ";"), "COMMIT;"]);

    /// <summary>As statements for SQLite, with $k for the key and $n for a number that no row has yet.</summary>
    public IReadOnlyList<string> ForSqlite() => [.. Statements("$k", "$n", "lower(hex(randomblob(16)))", "lower(hex(randomblob(16)))")];

    private IEnumerable<string> Statements(string key, string number, string id, string text) =>
    [
        .. _changed.Select(one => $"UPDATE \"{one.Table}\" SET {(one.Table == "ChainHeads" ? $"\"Number\" = \"Number\" + 1, \"Hash\" = {text}" : "\"Version\" = \"Version\" + 1")} WHERE \"{one.Key}\" = (SELECT key FROM \"bench_keys_{one.Table}\" WHERE n = {key})"),
        .. _added.Select(one => $"INSERT INTO \"{one.Table}\" ({string.Join(", ", one.Columns.Select(column => $"\"{column.Name}\""))}) SELECT {string.Join(", ", one.Columns.Select(column => column.Fresh switch { Fresh.Number => number, Fresh.Id => id, Fresh.Text => text, _ => $"\"{column.Name}\"" }))} FROM \"bench_{one.Table}\""),
    ];

    // Of every unique index one column gets another value: a number, else the id, else its last.
    private async Task AddAsync(DrainboardDb db, string table, bool added)
    {
        var columns = (await AskAsync<string>(db, $"SELECT column_name || '|' || data_type || '|' || is_identity AS \"Value\" FROM information_schema.columns WHERE table_schema = 'public' AND table_name = '{table}' ORDER BY ordinal_position")).Select(column => column.Split('|')).ToArray();
        var kinds = columns.ToDictionary(cells => cells[0], cells => cells[1]);
        var indexes = (await AskAsync<string>(db, $"""SELECT (SELECT string_agg(a.attname, ',' ORDER BY k.n) FROM unnest(i.indkey) WITH ORDINALITY k(attnum, n) JOIN pg_attribute a ON a.attrelid = i.indrelid AND a.attnum = k.attnum)::text AS "Value" FROM pg_index i WHERE i.indrelid = '"{table}"'::regclass AND i.indisunique""")).Select(index => index.Split(',')).ToArray();
        if (!added)
        {
            _changed.Add(new Changed(table, indexes[0][0]));
            return;
        }

        var fresh = indexes.Select(index => index.FirstOrDefault(column => IsNumber(kinds[column])) ?? index.FirstOrDefault(column => column == "Id") ?? index[^1]).ToHashSet();
        _added.Add(new Added(table, [.. columns.Where(cells => cells[2] == "NO").Select(cells => new Column(cells[0], !fresh.Contains(cells[0]) ? Fresh.No : IsNumber(cells[1]) ? Fresh.Number : cells[1] == "uuid" ? Fresh.Id : Fresh.Text))]));
    }

    private static bool IsNumber(string kind) => kind is "integer" or "bigint";

    private static async Task<long> CountAsync(DrainboardDb db, string table, string where) => (await AskAsync<long>(db, $"SELECT count(*) AS \"Value\" FROM \"{table}\" WHERE {where}"))[0];

    private static async Task<T[]> AskAsync<T>(DrainboardDb db, string sql) => await db.Database.SqlQueryRaw<T>(sql).ToArrayAsync();

    private static Task DoAsync(DrainboardDb db, string sql) => db.Database.ExecuteSqlRawAsync(sql);

    private enum Fresh
    {
        No,
        Number,
        Id,
        Text,
    }

    private sealed record Column(string Name, Fresh Fresh);

    private sealed record Added(string Table, IReadOnlyList<Column> Columns);

    private sealed record Changed(string Table, string Key);
}
