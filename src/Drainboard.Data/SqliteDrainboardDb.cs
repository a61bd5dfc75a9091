using Drainboard.Data.Conversions;
using Drainboard.Data.Records;
using Drainboard.Domain.Records;
using Microsoft.Data.Sqlite;
using Microsoft.EntityFrameworkCore;
using NodaTime;

namespace Drainboard.Data;

/// <summary>The embedded database of one station, in one process. Writers take turns; readers are free (WAL).</summary>
public sealed class SqliteDrainboardDb(DbContextOptions<SqliteDrainboardDb> options) : DrainboardDb(options)
{
    private static readonly SemaphoreSlim Writer = new(1, 1);

    public override bool IsDuplicateKey(DbUpdateException failure) =>
        failure.InnerException is SqliteException { SqliteExtendedErrorCode: 1555 or 2067 };

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

    protected override void ConfigureConventions(ModelConfigurationBuilder configurationBuilder)
    {
        base.ConfigureConventions(configurationBuilder);
        configurationBuilder.Properties<Instant>().HaveConversion<InstantTicksConverter>();
        configurationBuilder.Properties<LocalDate>().HaveConversion<LocalDateTextConverter>();
        configurationBuilder.Properties<LocalTime>().HaveConversion<LocalTimeTextConverter>();
        configurationBuilder.Properties<DateTimeOffset>().HaveConversion<DateTimeOffsetTicksConverter>();
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
