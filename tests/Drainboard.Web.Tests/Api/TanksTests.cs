using Drainboard.Testing;
using Drainboard.Testing.Databases;
using NodaTime;

namespace Drainboard.Web.Tests.Api;

/// <summary>Ramp servicing and what it says of a tail's tanks, over HTTP on both databases.</summary>
public sealed class TanksTests(Hosts hosts) : IClassFixture<Hosts>
{
    [Theory]
    [ClassData(typeof(BothDatabases))]
    public async Task Services_CalibrateTheBalance_AndSayBeforeWhichFlight(DatabaseKind kind)
    {
        await using var own = new Hosts();
        var (host, tail) = (await own.OnAsync(kind), "QQ-TSA");
        var (tech, admin, control) = (await host.ClientForAsync("tech"), await host.ClientForAsync("admin"), await host.ClientForAsync("control"));
        var now = host.Clock.GetCurrentInstant();
        var before = await tech.ReadAsync($"/api/v1/tails/{tail}/tanks");
        Assert.Equal((null, null, 0.2), ((int?)before["potable"]!["capacity"], (string?)before["potable"]!["since"], Math.Round(before["potable"]!["perPassengerHour"]!.GetValue<double>(), 9)));
        Assert.Equal(422, (await admin.SendAsync(HttpMethod.Put, "/api/v1/layouts/T1/tanks", new { id = Domain.NewId.At(now), potableLitres = 0, wasteLitres = 100 })).Status);
        Assert.Equal(200, (await admin.SendAsync(HttpMethod.Put, "/api/v1/layouts/T1/tanks", new { id = Domain.NewId.At(now), potableLitres = 200, wasteLitres = 100 })).Status);

        // 100 seats, 85 of them taken, two hours: 170 passenger hours between the services.
        await UpliftAsync(host, tail, now - Duration.FromHours(9), 20, full: true);
        await WasteAsync(host, tail, now - Duration.FromHours(9), 10, null);
        Assert.Equal(200, (await control.SendAsync(HttpMethod.Put, "/api/v1/sectors/TANK-1", new { tail, from = "QQBB", to = "QQAA", offBlock = Station.Iso(now - Duration.FromHours(8)), onBlock = Station.Iso(now - Duration.FromHours(6)), flown = true })).Status);
        await UpliftAsync(host, tail, now - Duration.FromHours(5), 68, full: true);
        await WasteAsync(host, tail, now - Duration.FromHours(5), 10, 44);
        Assert.Equal(200, (await control.SendAsync(HttpMethod.Put, "/api/v1/sectors/TANK-2", new { tail, from = "QQAA", to = "QQBB", offBlock = Station.Iso(now + Duration.FromHours(2)), onBlock = Station.Iso(now + Duration.FromHours(4)), flown = false })).Status);
        Assert.Equal(200, (await control.SendAsync(HttpMethod.Put, "/api/v1/sectors/TANK-3", new { tail, from = "QQBB", to = "QQAA", offBlock = Station.Iso(now + Duration.FromHours(5)), onBlock = Station.Iso(now + Duration.FromHours(11)), flown = false })).Status);

        // Prior 0.2 L over 500 passenger hours, then 68 L over 170: (100 + 68) / 670.
        var view = await tech.ReadAsync($"/api/v1/tails/{tail}/tanks");
        var potable = view["potable"]!;
        Assert.Equal(168.0 / 670, potable["perPassengerHour"]!.GetValue<double>(), 9);
        Assert.Equal((1, 200.0), (potable["measured"]!.GetValue<int>(), potable["now"]!["likely"]!.GetValue<double>()));
        Assert.Equal(200 - (170 * 168.0 / 670), potable["next"]![0]!["after"]!["likely"]!.GetValue<double>(), 6);
        Assert.Null(potable["serveBefore"]);

        // Waste: 0.107 L over 500, then 44 - 10 L over 170; 90 L of room for 170 and then 680 passenger hours.
        var waste = view["waste"]!;
        Assert.Equal((53.5 + 34) / 670, waste["perPassengerHour"]!.GetValue<double>(), 9);
        Assert.Equal(1, waste["serveBefore"]!.GetValue<int>());
        Assert.InRange(waste["next"]![1]!["after"]!["chance"]!.GetValue<double>(), 0.3, 0.6);
        Assert.Contains("<svg", await tech.GetStringAsync(new Uri($"/api/v1/tails/{tail}/tanks/waste.svg", UriKind.Relative), TestContext.Current.CancellationToken), StringComparison.Ordinal);
    }

    [Theory]
    [ClassData(typeof(BothDatabases))]
    public async Task BadService_IsRefusedInWords_AndAServiceSentTwiceCountsOnce(DatabaseKind kind)
    {
        var (host, tail) = (await hosts.OnAsync(kind), "QQ-TSA");
        var tech = await host.ClientForAsync("tech");
        var now = host.Clock.GetCurrentInstant();
        Assert.Equal(200, (await (await host.ClientForAsync("admin")).SendAsync(HttpMethod.Put, "/api/v1/layouts/T1/tanks", new { id = Domain.NewId.At(now), potableLitres = 200, wasteLitres = 100 })).Status);
        foreach (var (path, body, refusal) in new (string, object, string)[]
        {
            ("potable-uplifts", new { id = Domain.NewId.At(now), at = Station.Iso(now), litres = -5, full = false, source = "Cart 1", capClosed = true, doorClosed = true }, "negative-uplift"),
            ("potable-uplifts", new { id = Domain.NewId.At(now), at = Station.Iso(now), litres = 201, full = true, source = "Cart 1", capClosed = true, doorClosed = true }, "more-than-the-tank"),
            ("potable-uplifts", new { id = Domain.NewId.At(now), at = Station.Iso(now), litres = 20, full = true, source = "", capClosed = true, doorClosed = true }, "no-source"),
            ("potable-uplifts", new { id = Domain.NewId.At(now), at = Station.Iso(now), litres = 20, full = true, source = "Cart 1", capClosed = true, doorClosed = false }, "panel-open"),
            ("waste-services", new { id = Domain.NewId.At(now), at = Station.Iso(now), prechargeLitres = 10, litresOut = 101, capClosed = true, doorClosed = true }, "more-than-the-tank"),
            ("waste-services", new { id = Domain.NewId.At(now), at = Station.Iso(now), prechargeLitres = -1, capClosed = true, doorClosed = true }, "negative-litres"),
        })
        {
            var (status, answer, _) = await tech.SendAsync(HttpMethod.Post, $"/api/v1/tails/{tail}/{path}", body);
            Assert.Equal((422, refusal), (status, answer!["refusal"]!.GetValue<string>()));
        }

        var once = new { id = Domain.NewId.At(now), at = Station.Iso(now), litres = 30, full = true, source = "Cart 1", capClosed = true, doorClosed = true, leak = "drip at the fill cap" };
        Assert.Equal(201, (await tech.SendAsync(HttpMethod.Post, $"/api/v1/tails/{tail}/potable-uplifts", once)).Status);
        Assert.Equal(201, (await tech.SendAsync(HttpMethod.Post, $"/api/v1/tails/{tail}/potable-uplifts", once)).Status);
        var services = (await tech.ReadAsync($"/api/v1/tails/{tail}/tanks"))["potable"]!["services"]!.AsArray();
        Assert.Equal("30 L from Cart 1, full; leak seen: drip at the fill cap", Assert.Single(services)!["words"]!.GetValue<string>());
    }

    [Theory]
    [ClassData(typeof(BothDatabases))]
    public async Task Terms_Changed_MoveTheBalance(DatabaseKind kind)
    {
        await using var own = new Hosts();
        var host = await own.OnAsync(kind);
        var admin = await host.ClientForAsync("admin");
        var (_, _, tag) = await admin.SendAsync(HttpMethod.Get, "/api/v1/tank-terms", null);
        Assert.Equal("shares", (await admin.SendAsync(HttpMethod.Put, "/api/v1/tank-terms", new { rinseShare = 0.8 }, tag)).Body!["refusal"]!.GetValue<string>());
        Assert.Equal(200, (await admin.SendAsync(HttpMethod.Put, "/api/v1/tank-terms", new { potablePerPassengerHour = 0.4 }, tag)).Status);
        Assert.Equal(0.4, (await admin.ReadAsync("/api/v1/tails/QQ-TSB/tanks"))["potable"]!["perPassengerHour"]!.GetValue<double>(), 9);
        Assert.Equal(412, (await admin.SendAsync(HttpMethod.Put, "/api/v1/tank-terms", new { potablePerPassengerHour = 0.4 }, tag)).Status);
    }

    private static async Task UpliftAsync(DrainboardHost host, string tail, Instant at, int litres, bool full) =>
        Assert.Equal(201, (await (await host.ClientForAsync("tech")).SendAsync(HttpMethod.Post, $"/api/v1/tails/{tail}/potable-uplifts", new { id = Domain.NewId.At(at), at = Station.Iso(at), litres, full, source = "Cart 1", capClosed = true, doorClosed = true })).Status);

    private static async Task WasteAsync(DrainboardHost host, string tail, Instant at, int prechargeLitres, int? litresOut) =>
        Assert.Equal(201, (await (await host.ClientForAsync("tech")).SendAsync(HttpMethod.Post, $"/api/v1/tails/{tail}/waste-services", new { id = Domain.NewId.At(at), at = Station.Iso(at), prechargeLitres, litresOut, capClosed = true, doorClosed = true })).Status);
}
