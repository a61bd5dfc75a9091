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

    public override async Task<IAsyncDisposable> OneMomentAsync(CancellationToken stop) => await Database.BeginTransactionAsync(System.Data.IsolationLevel.RepeatableRead, stop);

    internal override async Task<ChainHead> LockHeadAsync(ChainKey chain, CancellationToken stop)
    {
        if (await FindAsync() is { } known)
        {
            return known;
        }

        var before = RecordEntry.BeforeFirst;
        await Database.ExecuteSqlAsync($"""INSERT INTO "ChainHeads" ("Chain", "Number", "Hash") VALUES ({chain.Value}, 0, {before}) ON CONFLICT DO NOTHING""", stop);
        return await FindAsync() ?? throw new InvalidOperationException($"The chain {chain.Value} has no head.");

        async Task<ChainHead?> FindAsync() => (await ChainHeads.FromSql($"""SELECT * FROM "ChainHeads" WHERE "Chain" = {chain.Value} FOR UPDATE""").ToListAsync(stop)).SingleOrDefault();
    }

    internal override async Task<string?> ShareRuleAsync(CancellationToken stop) =>
        (await Database.SqlQuery<string>($"""SELECT "RepeatRule" FROM "Installations" FOR SHARE""").ToListAsync(stop)).SingleOrDefault();

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
}
