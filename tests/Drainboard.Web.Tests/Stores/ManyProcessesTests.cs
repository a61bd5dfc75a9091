using System.Security.Claims;
using Drainboard.Data;
using Drainboard.Data.Accounts;
using Drainboard.Testing;
using Drainboard.Testing.Databases;
using Drainboard.Web.Features.Accounts;
using Drainboard.Web.Features.Live;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.DependencyInjection;

namespace Drainboard.Web.Tests.Stores;

/// <summary>Several processes on one PostgreSQL: each hears of what the others write.</summary>
public sealed class ManyProcessesTests
{
    private static CancellationToken Stop => TestContext.Current.CancellationToken;

    [Fact]
    public async Task Change_InOneProcess_IsHeardInTheOther()
    {
        await using var own = new Hosts();
        var first = await own.OnAsync(DatabaseKind.Postgres);
        await using var second = first.Beside();
        var feed = second.Services.GetRequiredService<ChangeFeed>();
        await using var heard = feed.ListenAsync(Stop).GetAsyncEnumerator(Stop);
        var next = heard.MoveNextAsync().AsTask();

        await Station.OpenAsync(first);

        Assert.True(await next.WaitAsync(TimeSpan.FromSeconds(30), Stop));
        Assert.Equal("open", (string?)(await (await second.ClientForAsync("tech")).ReadAsync("/api/v1/tails/QQ-TSA"))["items"]![0]!["state"]);
    }

    /// <summary>The bell alone, without the timer behind it; a connection that is cut is heard as a fault, and whoever listens again is told to read at once.</summary>
    [Fact]
    public async Task Bell_RingsElsewhere_AndAfterACutLineAgain()
    {
        await using var own = new Hosts();
        var first = await own.OnAsync(DatabaseKind.Postgres);
        await using var second = first.Beside();
        var bell = second.Services.GetRequiredService<ChangeBell>();
        using var rings = new SemaphoreSlim(0);
        var listening = bell.HearAsync(() => rings.Release(), Stop);
        await HeardAsync(rings);

        await first.Services.GetRequiredService<ChangeBell>().RingAsync(Stop);
        await HeardAsync(rings);

        await using var db = await first.Db.CreateDbContextAsync(Stop);
        await db.Database.ExecuteSqlRawAsync("SELECT pg_terminate_backend(pid, 10000) FROM pg_stat_activity WHERE datname = current_database() AND pid <> pg_backend_pid()", Stop);
        await Assert.ThrowsAnyAsync<System.Data.Common.DbException>(() => listening.WaitAsync(TimeSpan.FromSeconds(30), Stop));
        using var ending = CancellationTokenSource.CreateLinkedTokenSource(Stop);
        var again = bell.HearAsync(() => rings.Release(), ending.Token);
        await HeardAsync(rings);
        await ending.CancelAsync();
        await Assert.ThrowsAnyAsync<OperationCanceledException>(() => again);
    }

    /// <summary>Whoever tries here and there has no more tries than at one process.</summary>
    [Fact]
    public async Task WrongPasswords_AtTwoProcesses_CountTogether()
    {
        await using var own = new Hosts();
        var first = await own.OnAsync(DatabaseKind.Postgres);
        await using var second = first.Beside();
        var doors = new[] { await first.ClientForAsync("tech"), await second.ClientForAsync("tech") };
        async Task<string?> TryAsync(int door, string password) => (string?)(await doors[door].SendAsync(HttpMethod.Put, "/api/v1/me/password", new { id = Domain.NewId.At(first.Clock.GetCurrentInstant()), current = password, password = "four wet otters dancing" })).Body!["refusal"];
        for (var wrong = 0; wrong < 4; wrong++)
        {
            Assert.Equal("password-wrong", await TryAsync(wrong % 2, "not it at all"));
        }

        Assert.Equal("signing-locked", await TryAsync(0, "not it at all"));
        Assert.Equal("signing-locked", await TryAsync(1, SmallFleet.Password));
    }

    [Fact]
    public async Task SignOut_InOneProcess_IsToldInTheOther()
    {
        await using var own = new Hosts();
        var first = await own.OnAsync(DatabaseKind.Postgres);
        await using var second = first.Beside();
        var actor = await first.ActorAsync("lead");
        var begun = new SignIn(Domain.NewId.At(first.Clock.GetCurrentInstant()), actor.Person, SignInMeans.Password, "a browser", first.Clock.GetCurrentInstant());
        await using (var db = await first.Db.CreateDbContextAsync(Stop))
        {
            db.SignIns.Add(begun);
            await db.SaveChangesAsync(Stop);
        }

        var cookie = new ClaimsPrincipal(new ClaimsIdentity([new Claim(SignIns.Claim, $"{begun.Id}")]));
        Assert.True(await second.Services.GetRequiredService<SignIns>().IsOpenAsync(cookie, Stop));
        var told = new TaskCompletionSource();
        second.Services.GetRequiredService<ChangeFeed>().SignInsChanged += about =>
        {
            if (about.Contains(actor.Person.Value))
            {
                told.TrySetResult();
            }
        };

        await first.Services.GetRequiredService<SignIns>().EndAsync(actor.Person, begun.Id, null, Stop);

        await told.Task.WaitAsync(TimeSpan.FromSeconds(30), Stop);
        Assert.False(await second.Services.GetRequiredService<SignIns>().IsOpenAsync(cookie, Stop));
    }

    /// <summary>A round of background work is one process' at a time; one that dies lets go of it.</summary>
    [Fact]
    public async Task Duty_IsOneProcesssAtATime_AndGoesWithItsConnection()
    {
        await using var own = new Hosts();
        var first = await own.OnAsync(DatabaseKind.Postgres);
        await using var second = first.Beside();
        var (mine, theirs) = (first.Services.GetRequiredService<DutyLock>(), second.Services.GetRequiredService<DutyLock>());
        await using (var held = await mine.TryTakeAsync("test", Stop))
        {
            Assert.NotNull(held);
            Assert.Null(await theirs.TryTakeAsync("test", Stop));
            await using var another = await theirs.TryTakeAsync("another", Stop);
            Assert.NotNull(another);
        }

        var lost = await mine.TryTakeAsync("test", Stop);
        await using var db = await first.Db.CreateDbContextAsync(Stop);
        await db.Database.ExecuteSqlRawAsync("SELECT pg_terminate_backend(pid, 10000) FROM pg_locks WHERE locktype = 'advisory'", Stop);
        await using var again = await theirs.TryTakeAsync("test", Stop);
        Assert.NotNull(again);
        await lost!.DisposeAsync();
    }

    private static async Task HeardAsync(SemaphoreSlim rings) => Assert.True(await rings.WaitAsync(TimeSpan.FromSeconds(30), Stop));
}
