using System.Data.Common;
using Drainboard.Data;
using Drainboard.Domain.Records;
using Drainboard.Testing;
using Drainboard.Testing.Databases;
using Drainboard.Web.Features.Records;
using Drainboard.Web.Hosting;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.DependencyInjection;

namespace Drainboard.Web.Tests.Stores;

public sealed class DatabaseTests(Hosts hosts) : IClassFixture<Hosts>
{
    [Theory]
    [ClassData(typeof(BothDatabases))]
    public async Task Model_HasNoChangeThatAMigrationLacks(DatabaseKind kind)
    {
        await using var db = await (await hosts.OnAsync(kind)).Db.CreateDbContextAsync(TestContext.Current.CancellationToken);

        Assert.False(db.Database.HasPendingModelChanges());
    }

    /// <summary>Contexts are used again: one that read of one moment gives its connection back, and reads on as any other.</summary>
    [Theory]
    [ClassData(typeof(BothDatabases))]
    public async Task Moment_Over_LeavesNoConnectionOpen(DatabaseKind kind)
    {
        var stop = TestContext.Current.CancellationToken;
        await using var db = await (await hosts.OnAsync(kind)).Db.CreateDbContextAsync(stop);
        await using (await db.OneMomentAsync(stop))
        {
            await db.Tails.CountAsync(stop);
            Assert.Equal(System.Data.ConnectionState.Open, db.Database.GetDbConnection().State);
        }

        await db.Tails.CountAsync(stop);
        Assert.Equal((System.Data.ConnectionState.Closed, true), (db.Database.GetDbConnection().State, db.Database.CurrentTransaction is null));
    }

    [Theory]
    [ClassData(typeof(BothDatabases))]
    public async Task Record_AfterWork_HoldsAndNamesTheFirstAlteredEntry(DatabaseKind kind)
    {
        var stop = TestContext.Current.CancellationToken;
        var host = await hosts.OnAsync(kind);
        await Station.DeferredAsync(host);
        await Station.WorkDoneAsync(host);
        var record = host.Services.GetRequiredService<RecordQuery>();
        var whole = await record.VerifyAsync(stop);
        Assert.True(whole.Whole, string.Join("; ", whole.Breaks.Select(broken => broken.Words)));
        Assert.True(whole.Entries > 8);

        await using var db = await host.Db.CreateDbContextAsync(stop);
        var target = await db.Record.AsNoTracking().Where(entry => entry.Kind == "work.done").FirstAsync(stop);
        var altered = target.Payload.Replace("grounds", "paper", StringComparison.Ordinal);
        await OpenRecordAsync(db, kind, stop);
        await RewriteAsync(db, target, altered, stop);
        var broken = Assert.Single((await record.VerifyAsync(stop)).Breaks);
        Assert.Equal((target.Number, "changed"), (broken.Number, broken.Kind));
        await RewriteAsync(db, target, target.Payload, stop);
    }

    [Theory]
    [ClassData(typeof(BothDatabases))]
    public async Task Signers_Erased_LeaveTheChainWhole(DatabaseKind kind)
    {
        var stop = TestContext.Current.CancellationToken;
        var host = await hosts.OnAsync(kind);
        await Station.OpenAsync(host);
        await using var db = await host.Db.CreateDbContextAsync(stop);

        await db.Database.ExecuteSqlAsync($"""UPDATE "Signers" SET "Name" = NULL, "Number" = NULL, "Salt" = NULL""", stop);

        Assert.True((await host.Services.GetRequiredService<RecordQuery>().VerifyAsync(stop)).Whole);
    }

    [Theory]
    [ClassData(typeof(BothDatabases))]
    public async Task Writers_ManyAtOnceOnOneTail_LoseNothingAndNumberWithoutGaps(DatabaseKind kind)
    {
        var stop = TestContext.Current.CancellationToken;
        var host = await hosts.OnAsync(kind);
        var crew = await host.ClientForAsync("crew");

        var answers = await Task.WhenAll(Enumerable.Range(0, 24).Select(_ => crew.SendAsync(HttpMethod.Post, "/api/v1/reports", Station.Report(host, tail: "QQ-TSC"))));

        Assert.All(answers, answer => Assert.Equal(201, answer.Status));
        await using var db = await host.Db.CreateDbContextAsync(stop);
        var mark = Domain.Fleet.Registration.Parse("QQ-TSC");
        var tail = await db.Tails.SingleAsync(tail => tail.Registration == mark, stop);
        var numbers = await db.Defects.Where(defect => defect.Tail == tail.Id).Select(defect => defect.Number).OrderBy(number => number).ToArrayAsync(stop);
        Assert.Equal(Enumerable.Range(1, numbers.Length), numbers);
        Assert.True((await host.Services.GetRequiredService<RecordQuery>().VerifyAsync(stop)).Whole);
    }

    /// <summary>The database itself refuses to change, remove or empty the record, whoever asks with the program's own rights.</summary>
    [Theory]
    [ClassData(typeof(BothDatabases))]
    public async Task Record_ChangedOrRemovedInTheDatabase_IsRefusedByIt(DatabaseKind kind)
    {
        var stop = TestContext.Current.CancellationToken;
        var (started, reason) = await DrainboardHost.TryStartAsync(kind, SmallFleet.Now);
        Assert.SkipWhen(started is null, reason);
        await using var host = started!;
        await Station.OpenAsync(host);
        await using var db = await host.Db.CreateDbContextAsync(stop);
        var before = await db.Record.CountAsync(stop);

        var changed = await Assert.ThrowsAnyAsync<DbException>(() => db.Database.ExecuteSqlAsync($"""UPDATE "Record" SET "Words" = 'other'""", stop));
        var removed = await Assert.ThrowsAnyAsync<DbException>(() => db.Database.ExecuteSqlAsync($"""DELETE FROM "Record" """, stop));

        Assert.Contains("never changed", changed.Message, StringComparison.Ordinal);
        Assert.Contains("removed", removed.Message, StringComparison.Ordinal);
        Assert.Equal(before, await db.Record.CountAsync(stop));
    }

    /// <summary>Run as a role of its own, the service cannot alter the record even where the triggers are away, and does its work all the same.</summary>
    [Fact]
    public async Task ServiceRole_MayAddToTheRecordAndNotAlterIt()
    {
        var stop = TestContext.Current.CancellationToken;
        var (started, reason) = await DrainboardHost.TryStartAsync(DatabaseKind.Postgres, SmallFleet.Now);
        Assert.SkipWhen(started is null, reason);
        await using var host = started!;
        await Station.OpenAsync(host);
        var (role, owner) = ($"service_{Domain.NewId.At(host.Clock.GetCurrentInstant()):N}", host.Services.GetRequiredService<Settings>().Database.ConnectionString);
        await using (var db = await host.Db.CreateDbContextAsync(stop))
        {
#pragma warning disable EF1002 // A name of our own making.
            await db.Database.ExecuteSqlRawAsync($"CREATE ROLE {role} LOGIN PASSWORD 'a-test-role'", stop);
            await host.Services.GetRequiredService<ServiceRole>().GrantAsync(role, stop);
            await db.Database.ExecuteSqlRawAsync("""ALTER TABLE "Record" DISABLE TRIGGER USER""", stop);
        }

        await using var services = new ServiceCollection().AddLogging().AddDrainboardData(new DatabaseAddress(true, new Npgsql.NpgsqlConnectionStringBuilder(owner) { Username = role, Password = "a-test-role", Pooling = false }.ConnectionString)).BuildServiceProvider();
        await using var asService = await services.GetRequiredService<IDbContextFactory<DrainboardDb>>().CreateDbContextAsync(stop);
        var refused = await Assert.ThrowsAnyAsync<DbException>(() => asService.Database.ExecuteSqlAsync($"""UPDATE "Record" SET "Words" = 'other'""", stop));
        await Assert.ThrowsAnyAsync<DbException>(() => asService.Database.ExecuteSqlAsync($"""DELETE FROM "Record" """, stop));
        await Assert.ThrowsAnyAsync<DbException>(() => asService.Database.ExecuteSqlAsync($"""TRUNCATE "Record" """, stop));
        await Assert.ThrowsAnyAsync<DbException>(() => asService.Database.ExecuteSqlAsync($"""ALTER TABLE "Record" DISABLE TRIGGER ALL""", stop));
        await Assert.ThrowsAnyAsync<DbException>(() => asService.Database.ExecuteSqlAsync($"""DELETE FROM "Seals" """, stop));
        Assert.Contains("permission denied", refused.Message, StringComparison.Ordinal);

        var by = await host.ActorAsync("tech");
        await asService.SaveAsync(new Writing(by, host.Clock.GetCurrentInstant(), [new Deed(new Fact(ChainKey.Operator, "test.added", Guid.Empty, "Added."), by, host.Clock.GetCurrentInstant())]), stop);
        Assert.True((await host.Services.GetRequiredService<RecordQuery>().VerifyAsync(stop)).Whole);
    }

    /// <summary>As somebody would who owns the database: takes the guard away before rewriting.</summary>
    private static Task OpenRecordAsync(DrainboardDb db, DatabaseKind kind, CancellationToken stop) =>
        kind == DatabaseKind.Postgres ? db.Database.ExecuteSqlAsync($"""ALTER TABLE "Record" DISABLE TRIGGER USER""", stop) : db.Database.ExecuteSqlAsync($"DROP TRIGGER record_stands_unchanged", stop);

    private static Task<int> RewriteAsync(DrainboardDb db, RecordEntry entry, string payload, CancellationToken stop)
    {
        var (chain, number) = (entry.Chain.Value, entry.Number);
        return db.Database.ExecuteSqlAsync($"""UPDATE "Record" SET "Payload" = {payload} WHERE "Chain" = {chain} AND "Number" = {number}""", stop);
    }
}
