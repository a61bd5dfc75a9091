using Drainboard.Data.Conversions;
using Drainboard.Data.Records;
using Drainboard.Data.Reliability;
using Drainboard.Domain.Records;
using Drainboard.Domain.Reliability;
using Microsoft.Data.Sqlite;
using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Storage;
using NodaTime;

namespace Drainboard.Data;

/// <summary>The embedded database of one station, in one process. Writers take turns; readers are free (WAL).</summary>
public sealed class SqliteDrainboardDb(DbContextOptions<SqliteDrainboardDb> options) : DrainboardDb(options)
{
    private static readonly SemaphoreSlim Writer = new(1, 1);

    public override bool IsDuplicateKey(DbUpdateException failure) =>
        failure.InnerException is SqliteException { SqliteExtendedErrorCode: 1555 or 2067 };

    public override Task<bool> TakesWritesAsync(CancellationToken stop) => Task.FromResult(true);

    public override async Task<IAsyncDisposable> OneMomentAsync(CancellationToken stop)
    {
        await Database.OpenConnectionAsync(stop);
        // The usual kind would keep writers waiting.
        var transaction = ((SqliteConnection)Database.GetDbConnection()).BeginTransaction(deferred: true);
        await Database.UseTransactionAsync(transaction, stop);
        return new Moment(this, transaction);
    }

    internal override async Task<ChainHead> LockHeadAsync(ChainKey chain, CancellationToken stop)
    {
        // BEGIN IMMEDIATE has the whole database already.
        var head = await ChainHeads.FindAsync([chain], stop);
        if (head is null)
        {
            head = new ChainHead(chain);
            ChainHeads.Add(head);
        }

        return head;
    }

    internal override async ValueTask<IDisposable?> EnterWriteAsync(CancellationToken stop)
    {
        await Writer.WaitAsync(stop);
        return new Turn();
    }

    internal override Task<string?> ShareRuleAsync(CancellationToken stop) => Installations.Select(installation => installation.RepeatRule).SingleOrDefaultAsync(stop);

    internal override async Task WriteStandingsAsync(IReadOnlyList<Standing> rows, CancellationToken stop)
    {
        await using var insert = ((SqliteConnection)Database.GetDbConnection()).CreateCommand();
        insert.Transaction = (SqliteTransaction)Database.CurrentTransaction!.GetDbTransaction();
        insert.CommandText = $"INSERT INTO \"Standings\" ({StandingColumns.Names}) VALUES ({string.Join(", ", StandingColumns.All.Select((_, index) => $"$p{index}"))})";
        var cells = StandingColumns.All.Select((_, index) => insert.Parameters.Add(new SqliteParameter { ParameterName = $"$p{index}" })).ToArray();
        foreach (var row in rows)
        {
            foreach (var (index, column) in StandingColumns.All.Index())
            {
                cells[index].Value = column.Value(row) ?? DBNull.Value;
            }

            await insert.ExecuteNonQueryAsync(stop);
        }
    }

    protected override void ConfigureConventions(ModelConfigurationBuilder configurationBuilder)
    {
        base.ConfigureConventions(configurationBuilder);
        configurationBuilder.Properties<Instant>().HaveConversion<InstantTicksConverter>();
        configurationBuilder.Properties<LocalDate>().HaveConversion<LocalDateTextConverter>();
        configurationBuilder.Properties<LocalTime>().HaveConversion<LocalTimeTextConverter>();
        configurationBuilder.Properties<DateTimeOffset>().HaveConversion<DateTimeOffsetTicksConverter>();
    }

    /// <summary>Ends with its connection given back: a context that is used again begins without one.</summary>
    private sealed class Moment(SqliteDrainboardDb db, SqliteTransaction transaction) : IAsyncDisposable
    {
        public async ValueTask DisposeAsync()
        {
            await transaction.DisposeAsync();
            if (db.Database.CurrentTransaction is { } known)
            {
                await known.DisposeAsync();
            }

            await db.Database.CloseConnectionAsync();
        }
    }

    private sealed class Turn : IDisposable
    {
        private int _done;

        public void Dispose()
        {
            if (Interlocked.Exchange(ref _done, 1) == 0)
            {
                Writer.Release();
            }
        }
    }
}
