using Drainboard.Data.Records;
using Drainboard.Data.Reliability;
using Drainboard.Domain.Records;
using Drainboard.Domain.Reliability;
using Microsoft.EntityFrameworkCore;
using Npgsql;

namespace Drainboard.Data;

/// <summary>The shared database of a station or an airline, for any number of processes.</summary>
public sealed class PostgresDrainboardDb(DbContextOptions<PostgresDrainboardDb> options) : DrainboardDb(options)
{
    public override bool IsDuplicateKey(DbUpdateException failure) =>
        failure.InnerException is PostgresException { SqlState: PostgresErrorCodes.UniqueViolation };

    public override async Task<bool> TakesWritesAsync(CancellationToken stop) => await Database.SqlQuery<string>($"SELECT current_setting('transaction_read_only') AS \"Value\"").SingleAsync(stop) == "off";

    public override async Task<IAsyncDisposable> OneMomentAsync(CancellationToken stop) => await Database.BeginTransactionAsync(System.Data.IsolationLevel.RepeatableRead, stop);

    internal override async Task<ChainHead> LockHeadAsync(ChainKey chain, CancellationToken stop)
    {
        if (await FindAsync() is not { } head)
        {
            var before = RecordEntry.BeforeFirst;
            await Database.ExecuteSqlAsync($"""INSERT INTO "ChainHeads" ("Chain", "Number", "Hash") VALUES ({chain.Value}, 0, {before}) ON CONFLICT DO NOTHING""", stop);
            head = await FindAsync() ?? throw new InvalidOperationException($"The chain {chain.Value} has no head.");
        }

        ChainHeads.Attach(head);
        return head;

        Task<ChainHead?> FindAsync() => FirstAsync("""SELECT "Number", "Hash" FROM "ChainHeads" WHERE "Chain" = $1 FOR UPDATE""", [new NpgsqlParameter<string> { TypedValue = chain.Value }], row => new ChainHead(chain, row.GetInt64(0), row.GetString(1)), stop);
    }

    internal override Task<string?> ShareRuleAsync(CancellationToken stop) => FirstAsync("""SELECT "RepeatRule" FROM "Installations" FOR SHARE""", [], row => row.GetString(0), stop);

    internal override async Task WriteStandingsAsync(IReadOnlyList<Standing> rows, CancellationToken stop)
    {
        await using var copy = await ((NpgsqlConnection)Database.GetDbConnection()).BeginBinaryImportAsync($"COPY \"Standings\" ({StandingColumns.Names}) FROM STDIN (FORMAT BINARY)", stop);
        foreach (var row in rows)
        {
            await copy.StartRowAsync(stop);
            foreach (var (_, value) in StandingColumns.All)
            {
                await (value(row) is { } cell ? copy.WriteAsync(cell, stop) : copy.WriteNullAsync(stop));
            }
        }

        await copy.CompleteAsync(stop);
    }

    internal override ValueTask<IDisposable?> EnterWriteAsync(CancellationToken stop) => ValueTask.FromResult<IDisposable?>(null);

    // Row locks, which no query says, in the open transaction: raw SQL through the model is put together anew each time, under a lock.
    private async Task<T?> FirstAsync<T>(string sql, NpgsqlParameter[] values, Func<NpgsqlDataReader, T> read, CancellationToken stop)
        where T : class
    {
        await using var command = new NpgsqlCommand(sql, (NpgsqlConnection)Database.GetDbConnection());
        command.Parameters.AddRange(values);
        await using var rows = await command.ExecuteReaderAsync(stop);
        return await rows.ReadAsync(stop) ? read(rows) : null;
    }
}
