using Drainboard.Data;
using Drainboard.Data.Accounts;
using Drainboard.Testing;
using Drainboard.Testing.Databases;
using Drainboard.Web.Features.Accounts;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.DependencyInjection;

namespace Drainboard.Web.Tests.Api;

public sealed class FirstStartTests(Hosts hosts) : IClassFixture<Hosts>
{
    [Theory]
    [ClassData(typeof(BothDatabases))]
    public async Task SetUpLink_WorksOnceAndOnlyWithItsSecret(DatabaseKind kind)
    {
        var stop = TestContext.Current.CancellationToken;
        var host = await hosts.OnAsync(kind);
        var handler = host.Services.GetRequiredService<FirstAdministratorHandler>();
        await using (var db = await host.Db.CreateDbContextAsync(stop))
        {
            (await db.Installations.SingleAsync(stop)).AwaitSetUp(ApiKey.HashOf("the secret"));
            await db.SaveChangesAsync(stop);
        }

        Assert.Equal("link-spent", (await handler.HandleAsync("guessed", "first", "First", "Operator", "a long enough phrase", stop))?.Code);
        Assert.Equal("password", (await handler.HandleAsync("the secret", "first", "First", "Operator", "short", stop))?.Code);
        Assert.Null(await handler.HandleAsync("the secret", "first", "First", "Operator", "a long enough phrase", stop));
        Assert.Equal("link-spent", (await handler.HandleAsync("the secret", "second", "Second", "Operator", "a long enough phrase", stop))?.Code);
        Assert.Equal("First", (await (await host.ClientForAsync("first")).ReadAsync("/api/v1/me"))["name"]!.GetValue<string>());
    }

    [Fact]
    public async Task DemoAccounts_OutsideADemo_AreNotOffered()
    {
        var host = await hosts.OnAsync(DatabaseKind.Sqlite);
        using var client = host.CreateClient();

        var page = await client.GetStringAsync(new Uri("/sign-in", UriKind.Relative), TestContext.Current.CancellationToken);

        Assert.DoesNotContain("This is the demo", page, StringComparison.Ordinal);
        Assert.DoesNotContain("Tech Person", page, StringComparison.Ordinal);
    }
}
