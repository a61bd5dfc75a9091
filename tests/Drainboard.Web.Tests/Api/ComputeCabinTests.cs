using System.Text.Json.Nodes;
using Drainboard.Testing;
using Drainboard.Testing.Databases;

namespace Drainboard.Web.Tests.Api;

/// <summary>Drinking water samples and lavatory waiting as open computations (sources in the domain's tests), and bad input.</summary>
public sealed class ComputeCabinTests(Hosts hosts) : IClassFixture<Hosts>
{
    /// <summary>Three disinfections a year: two sets; one: twelve (40 CFR 141.803, table B-1).</summary>
    [Fact]
    public async Task SamplingDue_ByTheTable()
    {
        var client = await ClientAsync();
        Assert.Equal(2, (await client.MustAsync("/api/v1/compute/sampling-due", new { disinfectionsPerYear = 3 }))["routineSampleSetsPerYear"]!.GetValue<int>());
        Assert.Equal(12, (await client.MustAsync("/api/v1/compute/sampling-due", new { disinfectionsPerYear = 1 }))["routineSampleSetsPerYear"]!.GetValue<int>());
        Assert.Equal(400, await StatusAsync("sampling-due", new { disinfectionsPerYear = -1 }));
    }

    /// <summary>W1 and W8 over HTTP: a day to restrict, three to disinfect where it cannot be shut off; with taps shut the lavatories need no notice.</summary>
    [Fact]
    public async Task SamplingResult_OfEColi_SaysWhatByWhenAndWhy()
    {
        var client = await ClientAsync();
        var actions = (await client.MustAsync("/api/v1/compute/sampling-result", new { kind = "eColiPositive", notifiedAt = "2026-06-01T14:00:00Z", canShutOff = false }))["actions"]!.AsArray();
        Assert.Equal(
            ["restrictAccess 2026-06-02T14:00:00Z", "noticeToGalley 2026-06-02T14:00:00Z", "noticeInLavatories 2026-06-02T14:00:00Z", "disinfectAndFlush 2026-06-04T14:00:00Z", "followUpSamples ", "report 2026-06-11T14:00:00Z"],
            actions.Select(action => $"{action!["act"]!.GetValue<string>()} {action["dueAt"]?.GetValue<string>()}"));
        Assert.All(actions, action => Assert.StartsWith("40 CFR 141.80", action!["source"]!.GetValue<string>(), StringComparison.Ordinal));
        var shut = (await client.MustAsync("/api/v1/compute/sampling-result", new { kind = "eColiPositive", notifiedAt = "2026-06-01T14:00:00Z", canShutOff = true }))["actions"]!.AsArray();
        Assert.DoesNotContain(shut, action => action!["act"]!.GetValue<string>() == "noticeInLavatories");
    }

    [Fact]
    public async Task SamplingResult_OfColiform_LeavesThreeWays()
    {
        var actions = (await (await ClientAsync()).MustAsync("/api/v1/compute/sampling-result", new { kind = "coliformPositive", notifiedAt = "2026-06-01T14:00:00Z", canShutOff = true }))["actions"]!.AsArray();
        Assert.Equal("i i ii ii ii ii iii", string.Join(' ', actions.Select(action => action!["way"]?.GetValue<string>()).OfType<string>()));
        Assert.Equal(400, await StatusAsync("sampling-result", new { kind = "brown", notifiedAt = "2026-06-01T14:00:00Z", canShutOff = true }));
    }

    /// <summary>150 passengers, a quarter of a use an hour, 2.5 minutes: two lavatories and three; with one the open model has no end and the finite one has.</summary>
    [Fact]
    public async Task LavatoryQueue_SaysBothModels()
    {
        var client = await ClientAsync();
        var two = await client.MustAsync("/api/v1/compute/lavatory-queue", Cabin(2));
        Assert.Equal((0.6853, 3.916), (Math.Round(two["openModel"]!["waitProbability"]!.GetValue<double>(), 4), Math.Round(two["openModel"]!["meanWaitMinutes"]!.GetValue<double>(), 3)));
        var one = await client.MustAsync("/api/v1/compute/lavatory-queue", Cabin(1));
        Assert.Null(one["openModel"]);
        Assert.InRange(one["finiteModel"]!["arrivingWaitProbability"]!.GetValue<double>(), two["finiteModel"]!["arrivingWaitProbability"]!.GetValue<double>(), 1);
        Assert.Null((await client.MustAsync("/api/v1/compute/lavatory-queue", Cabin(0)))["finiteModel"]);

        // Kolkmeyer: six machines, each down 0.05 times an hour, half repaired in an hour by one person.
        var kolkmeyer = await client.MustAsync("/api/v1/compute/lavatory-queue", new { passengers = 6, usesPerPassengerHour = 3.0, minutesPerUse = 2.0, lavatories = 1 });
        Assert.Equal((0.436, 1.279), (Math.Round(kolkmeyer["finiteModel"]!["arrivingWaitProbability"]!.GetValue<double>(), 3), Math.Round(kolkmeyer["finiteModel"]!["meanWaitMinutes"]!.GetValue<double>(), 3)));
        Assert.Equal(400, await StatusAsync("lavatory-queue", new { passengers = -1, usesPerPassengerHour = 3.0, minutesPerUse = 2.0, lavatories = 1 }));
        Assert.Equal(400, await StatusAsync("lavatory-queue", new { passengers = 6, usesPerPassengerHour = 3.0, minutesPerUse = 0.0, lavatories = 1 }));
    }

    private static object Cabin(int lavatories) => new { passengers = 150, usesPerPassengerHour = 0.25, minutesPerUse = 2.5, lavatories };

    private async Task<HttpClient> ClientAsync() => await (await hosts.OnAsync(DatabaseKind.Sqlite)).ClientForAsync("tech");

    private async Task<int> StatusAsync(string what, object body) => (await (await ClientAsync()).SendAsync(HttpMethod.Post, $"/api/v1/compute/{what}", body)).Status;
}
