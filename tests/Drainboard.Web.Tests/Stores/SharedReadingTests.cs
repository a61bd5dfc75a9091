using Drainboard.Data.Records;
using Drainboard.Domain;
using Drainboard.Domain.Accounts;
using Drainboard.Testing;
using Drainboard.Testing.Databases;
using Drainboard.Web.Features.Live;
using Microsoft.EntityFrameworkCore;

namespace Drainboard.Web.Tests.Stores;

/// <summary>One reading for everybody: how many run, who waits for which, and that a commit is never missed (decision 0037).</summary>
public sealed class SharedReadingTests
{
    private static CancellationToken Stop => TestContext.Current.CancellationToken;

    [Theory]
    [ClassData(typeof(BothDatabases))]
    public async Task WhileOneRuns_EverybodyWhoKnowsOfSomethingNewer_WaitsForOneMore(DatabaseKind kind)
    {
        await using var own = new Hosts();
        var host = await own.OnAsync(kind);
        var reads = new Gate();
        var shared = new SharedReading<string>(host.Db, host.Clock);
        var first = shared.GetAsync("it", reads.ReadAsync, Stop);
        await reads.BegunAsync(1);
        var late = new List<Task<string>>();
        for (var writes = 0; writes < 5; writes++)
        {
            await WriteAsync(host);
            late.AddRange(Enumerable.Range(0, 4).Select(_ => shared.GetAsync("it", reads.ReadAsync, Stop)));
            await Task.Delay(50, Stop);
        }

        Assert.Equal(1, reads.Begun);
        reads.Open();
        Assert.Equal("reading 1", await first);
        Assert.All(await Task.WhenAll(late), answer => Assert.Equal("reading 2", answer));
        Assert.Equal((2, 1), (reads.Begun, reads.MostAtOnce));
    }

    /// <summary>A number that was drawn early and committed late lies below the newest: it is noticed by the count.</summary>
    [Fact]
    public async Task CommitThatComesLate_BelowTheNewestNumber_IsReadAnew()
    {
        await using var own = new Hosts();
        var host = await own.OnAsync(DatabaseKind.Postgres);
        var reads = new Gate();
        reads.Open();
        var shared = new SharedReading<string>(host.Db, host.Clock);
        await using var slow = await host.Db.CreateDbContextAsync(Stop);
        await using var open = await slow.Database.BeginTransactionAsync(Stop);
        await slow.Database.ExecuteSqlAsync($"INSERT INTO \"Changes\" (\"Kind\", \"Subject\", \"At\") VALUES ('test', {Guid.Empty}, now())", Stop);
        await WriteAsync(host);
        // The program's own rounds write now and then too.
        var (before, again) = ("", "it");
        for (var tries = 0; tries < 10 && before != again; tries++)
        {
            (before, again) = (await shared.GetAsync("it", reads.ReadAsync, Stop), await shared.GetAsync("it", reads.ReadAsync, Stop));
        }

        Assert.Equal(before, again);
        await open.CommitAsync(Stop);
        Assert.NotEqual(before, await shared.GetAsync("it", reads.ReadAsync, Stop));
    }

    [Fact]
    public async Task WhoeverLeaves_TakesTheReadingFromNobody_AndOneThatFails_IsBegunAnew()
    {
        await using var own = new Hosts();
        var host = await own.OnAsync(DatabaseKind.Sqlite);
        var reads = new Gate();
        var shared = new SharedReading<string>(host.Db, host.Clock);
        using var leaving = CancellationTokenSource.CreateLinkedTokenSource(Stop);
        var leaves = shared.GetAsync("it", reads.ReadAsync, leaving.Token);
        await reads.BegunAsync(1);
        var stays = shared.GetAsync("it", reads.ReadAsync, Stop);
        await leaving.CancelAsync();
        await Assert.ThrowsAnyAsync<OperationCanceledException>(() => leaves);
        reads.Open();
        Assert.StartsWith("reading", await stays, StringComparison.Ordinal);

        host.Clock.AdvanceSeconds(11);
        await Assert.ThrowsAsync<InvalidOperationException>(() => shared.GetAsync("it", (_, _) => throw new InvalidOperationException("The reading failed."), Stop));
        Assert.StartsWith("reading", await shared.GetAsync("it", reads.ReadAsync, Stop), StringComparison.Ordinal);
    }

    private static async Task WriteAsync(DrainboardHost host)
    {
        await using var db = await host.Db.CreateDbContextAsync(Stop);
        db.Changes.Add(new Change("test", Guid.Empty, host.Clock.GetCurrentInstant()));
        await db.SaveAsync(new Data.Writing(Actor.Installation, host.Clock.GetCurrentInstant(), []), Stop);
    }

    /// <summary>Readings that wait until they are let through, counted.</summary>
    private sealed class Gate
    {
        private readonly TaskCompletionSource _open = new(TaskCreationOptions.RunContinuationsAsynchronously);
        private int _begun;
        private int _running;
        private int _most;

        public int Begun => Volatile.Read(ref _begun);

        public int MostAtOnce => Volatile.Read(ref _most);

        public void Open() => _open.TrySetResult();

        public async Task BegunAsync(int many)
        {
            while (Begun < many)
            {
                await Task.Delay(10, Stop);
            }
        }

        public async Task<string> ReadAsync(Data.DrainboardDb db, NodaTime.Instant now)
        {
            var mine = Interlocked.Increment(ref _begun);
            _most = Math.Max(_most, Interlocked.Increment(ref _running));
            await _open.Task;
            Interlocked.Decrement(ref _running);
            return $"reading {mine}";
        }
    }
}
