using Drainboard.Data.Records;
using Drainboard.Domain.Records;
using Microsoft.EntityFrameworkCore;
using Npgsql;

namespace Drainboard.Data;

/// <summary>The shared database of a station or an airline, for any number of processes.</summary>
public sealed class PostgresDrainboardDb(DbContextOptions<PostgresDrainboardDb> options) : DrainboardDb(options)
{
    public override bool IsDuplicateKey(DbUpdateException failure) =>
        failure.InnerException is PostgresException { SqlState: PostgresErrorCodes.UniqueViolation };

    internal override async Task<ChainHead> LockHeadAsync(ChainKey chain, CancellationToken stop)
    {
        var before = RecordEntry.BeforeFirst;
        await Database.ExecuteSqlAsync($"""INSERT INTO "ChainHeads" ("Chain", "Number", "Hash") VALUES ({chain.Value}, 0, {before}) ON CONFLICT DO NOTHING""", stop);
        return await ChainHeads.FromSql($"""SELECT * FROM "ChainHeads" WHERE "Chain" = {chain.Value} FOR UPDATE""").SingleAsync(stop);
    }

    internal override ValueTask<IDisposable?> EnterWriteAsync(CancellationToken stop) => ValueTask.FromResult<IDisposable?>(null);
}
