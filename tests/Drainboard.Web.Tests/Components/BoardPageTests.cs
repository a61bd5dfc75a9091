using Bunit;
using Bunit.TestDoubles;
using Drainboard.Testing;
using Drainboard.Testing.Databases;
using Drainboard.Web.Features.Accounts;
using Drainboard.Web.Features.Board;
using Drainboard.Web.Features.Fleet;
using Drainboard.Web.Features.Live;
using Microsoft.Extensions.DependencyInjection;

namespace Drainboard.Web.Tests.Components;

public sealed class BoardPageTests(Hosts hosts) : IClassFixture<Hosts>
{
    [Fact]
    public async Task Board_Closed_StopsListening()
    {
        var host = await hosts.OnAsync(DatabaseKind.Sqlite);
        var feed = host.Services.GetRequiredService<ChangeFeed>();
        await using var context = Context(host);
        var before = feed.Listeners;

        var page = context.Render<BoardPage>(parameters => parameters.Add(one => one.Station, "QQAA"));
        await page.WaitForAssertionAsync(() => Assert.Equal(before + 1, feed.Listeners));
        await context.DisposeComponentsAsync();

        Assert.Equal(before, feed.Listeners);
    }

    [Fact]
    public async Task Board_AfterAReport_ShowsItWithoutBeingAsked()
    {
        var host = await hosts.OnAsync(DatabaseKind.Sqlite);
        await using var context = Context(host);
        var page = context.Render<BoardPage>(parameters => parameters.Add(one => one.Station, "QQAA"));
        await page.WaitForAssertionAsync(() => Assert.Contains("QQ-TSB", page.Markup, StringComparison.Ordinal));
        Assert.DoesNotContain("Toilet A", page.Markup, StringComparison.Ordinal);

        await Station.ReportedAsync(host, "QQ-TSB", "T-A");

        await page.WaitForAssertionAsync(() => Assert.Contains("Toilet A", page.Markup, StringComparison.Ordinal));
        await context.DisposeComponentsAsync();
    }

    [Fact]
    public async Task Board_OfAnUnknownStation_OffersTheOthers()
    {
        var host = await hosts.OnAsync(DatabaseKind.Sqlite);
        await using var context = Context(host);

        var page = context.Render<BoardPage>(parameters => parameters.Add(one => one.Station, "ZZZZ"));

        await page.WaitForAssertionAsync(() => Assert.Contains("There is no station ZZZZ", page.Markup, StringComparison.Ordinal));
        Assert.Contains("/board/QQBB", page.Markup, StringComparison.Ordinal);
        await context.DisposeComponentsAsync();
    }

    private static BunitContext Context(DrainboardHost host)
    {
        // How long to wait before giving up, on a machine that is busy with something else.
        BunitContext.DefaultWaitTimeout = TimeSpan.FromSeconds(30);
        var context = new BunitContext();
        context.AddAuthorization().SetAuthorized("lead");
        foreach (var type in new[] { typeof(BoardQuery), typeof(StationsQuery), typeof(ChangeFeed), typeof(ActorAccess) })
        {
            context.Services.AddSingleton(type, host.Services.GetRequiredService(type));
        }

        context.Services.AddScoped<CurrentActor>();
        return context;
    }
}
