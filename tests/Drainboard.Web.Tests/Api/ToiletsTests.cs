using Drainboard.Testing;
using Drainboard.Testing.Databases;

namespace Drainboard.Web.Tests.Api;

public sealed class ToiletsTests(Hosts hosts) : IClassFixture<Hosts>
{
    /// <summary>One toilet of one: a report alone does not put it out, a defect does, and the one at the sink says nothing of it.</summary>
    [Theory]
    [ClassData(typeof(BothDatabases))]
    public async Task Toilet_OutOfService_IsCountedAndItsCostSaid(DatabaseKind kind)
    {
        var host = await hosts.OnAsync(kind);
        var client = await host.ClientForAsync("tech");
        var before = await client.ReadAsync("/api/v1/tails/QQ-TSA/toilets");
        Assert.Equal((1, 1, 100), (before["installed"]!.GetValue<int>(), before["inService"]!.GetValue<int>(), before["passengers"]!.GetValue<int>()));
        Assert.Contains("at the peak", before["now"]!["words"]!.GetValue<string>(), StringComparison.Ordinal);
        Assert.Null(before["oneFewer"]);

        var defect = await Station.OpenAsync(host, position: "T-A");
        var after = await client.ReadAsync("/api/v1/tails/QQ-TSA/toilets");
        Assert.Equal(0, after["inService"]!.GetValue<int>());
        Assert.Null(after["now"]);
        Assert.Equal("No toilet is in service then.", (await client.ReadAsync($"/api/v1/defects/{defect}/fit"))["deferral"]!["waiting"]!.GetValue<string>());
        Assert.Null((await client.ReadAsync($"/api/v1/defects/{await Station.OpenAsync(host)}/fit"))["deferral"]!["waiting"]);
        Assert.Equal(404, (await client.SendAsync(HttpMethod.Get, "/api/v1/tails/QQ-XXX/toilets", null)).Status);
    }

    /// <summary>An operator's own figures are what waiting is worked out from; what cannot be is refused.</summary>
    [Theory]
    [ClassData(typeof(BothDatabases))]
    public async Task Terms_Changed_MoveTheWaiting(DatabaseKind kind)
    {
        var host = await hosts.OnAsync(kind);
        var admin = await host.ClientForAsync("admin");
        var before = (await admin.ReadAsync("/api/v1/tails/QQ-TSB/toilets"))["now"]!["peakChance"]!.GetValue<double>();
        var (_, _, tag) = await admin.SendAsync(HttpMethod.Get, "/api/v1/waiting-terms", null);
        Assert.Equal(422, (await admin.SendAsync(HttpMethod.Put, "/api/v1/waiting-terms", new { peakFactor = 0.5 }, tag)).Status);
        Assert.Equal(200, (await admin.SendAsync(HttpMethod.Put, "/api/v1/waiting-terms", new { usesPerPassengerHour = 0.05 }, tag)).Status);
        Assert.True((await admin.ReadAsync("/api/v1/tails/QQ-TSB/toilets"))["now"]!["peakChance"]!.GetValue<double>() < before);
        Assert.Equal(412, (await admin.SendAsync(HttpMethod.Put, "/api/v1/waiting-terms", new { usesPerPassengerHour = 0.05 }, tag)).Status);
    }
}
