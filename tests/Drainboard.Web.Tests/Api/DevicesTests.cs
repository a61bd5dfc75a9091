using Drainboard.Domain;
using Drainboard.Testing;
using Drainboard.Testing.Databases;
using NodaTime;

namespace Drainboard.Web.Tests.Api;

public sealed class DevicesTests(Hosts hosts) : IClassFixture<Hosts>
{
    [Theory]
    [ClassData(typeof(BothDatabases))]
    public async Task Report_ByAPersonWithAPin_KeepsWhoAndWhichDevice(DatabaseKind kind)
    {
        var host = await hosts.OnAsync(kind);
        using var tablet = await Tablet.EnrolledAsync(host);
        Assert.Equal(200, (await tablet.SignInAsync("crew")).Status);

        var (status, body, _) = await tablet.SendAsync(HttpMethod.Post, "/api/v1/reports", Station.Report(host), deviceTime: Station.Iso(host.Clock.GetCurrentInstant() - Duration.FromDays(1)));

        Assert.Equal(201, status);
        var report = (await Station.ReadAsync(host, body!["id"]!.GetValue<string>()))["reports"]![0]!;
        Assert.Equal(("Crew Person", "Tablet 1", -1440.0), (report["by"]!.GetValue<string>(), report["device"]!.GetValue<string>(), report["clockOffMinutes"]!.GetValue<double>()));
        Assert.Matches("^QQ-TSA [0-9]+$", body["reference"]!.GetValue<string>());
    }

    [Theory]
    [ClassData(typeof(BothDatabases))]
    public async Task Code_EntersOnceWithin24Hours(DatabaseKind kind)
    {
        var host = await hosts.OnAsync(kind);
        var (good, old) = (await Tablet.CodeAsync(host), await Tablet.CodeAsync(host));
        using var tablet = Tablet.Of(host);

        // As a person types it.
        Assert.Equal(200, (await tablet.SendAsync(HttpMethod.Post, "/api/v1/devices/this/enrolment", new { code = $"{good[..4].ToLowerInvariant()} {good[4..8]}-{good[8..]}" })).Status);
        Assert.Equal(422, (await tablet.SendAsync(HttpMethod.Post, "/api/v1/devices/this/enrolment", new { code = good })).Status);
        host.Clock.Advance(Duration.FromHours(25));
        Assert.Equal(422, (await tablet.SendAsync(HttpMethod.Post, "/api/v1/devices/this/enrolment", new { code = old })).Status);
    }

    [Theory]
    [ClassData(typeof(BothDatabases))]
    public async Task Pin_WrongFiveTimes_IsLockedForTenMinutesEvenWhenRight(DatabaseKind kind)
    {
        var host = await hosts.OnAsync(kind);
        using var tablet = await Tablet.EnrolledAsync(host);
        for (var tries = 0; tries < 5; tries++)
        {
            Assert.Equal(422, (await tablet.SignInAsync("pilot", "999998")).Status);
        }

        var (status, body) = await tablet.SignInAsync("pilot");
        Assert.Equal((422, "pin-locked"), (status, body!["refusal"]!.GetValue<string>()));

        host.Clock.Advance(Duration.FromMinutes(11));
        Assert.Equal(200, (await tablet.SignInAsync("pilot")).Status);
    }

    [Theory]
    [ClassData(typeof(BothDatabases))]
    public async Task Pins_WrongTwentyTimesAtOneDevice_OfWhomever_CloseIt_AndNoOther(DatabaseKind kind)
    {
        var host = await hosts.OnAsync(kind);
        using var tablet = await Tablet.EnrolledAsync(host);
        using var other = await Tablet.EnrolledAsync(host);
        for (var tries = 0; tries < 20; tries++)
        {
            // A right one in between is no way round it.
            Assert.Equal(200, (await tablet.SignInAsync("lead")).Status);
            Assert.Equal("pin-wrong", (await tablet.SignInAsync($"nobody.{tries}", "999998")).Body!["refusal"]!.GetValue<string>());
        }

        Assert.Equal("device-locked", (await tablet.SignInAsync("lead")).Body!["refusal"]!.GetValue<string>());
        Assert.Equal(200, (await other.SignInAsync("lead")).Status);
        host.Clock.Advance(Duration.FromMinutes(11));
        Assert.Equal(200, (await tablet.SignInAsync("lead")).Status);
    }

    [Theory]
    [ClassData(typeof(BothDatabases))]
    public async Task Pin_VoidedByAnAdministrator_OpensNothing_NorDoesWhatWasSignedInWithIt(DatabaseKind kind)
    {
        var host = await hosts.OnAsync(kind);
        using var tablet = await Tablet.EnrolledAsync(host);
        await tablet.SignInAsync("pilot.b");
        var admin = await host.ClientForAsync("admin");
        var pilot = (await admin.ReadAsync("/api/v1/people")).AsArray().Single(person => person!["userName"]!.GetValue<string>() == "pilot.b")!;
        Assert.True(pilot["hasPin"]!.GetValue<bool>());

        Assert.Equal(200, (await admin.SendAsync(HttpMethod.Put, "/api/v1/people/pilot.b", new { id = NewId.At(host.Clock.GetCurrentInstant()), name = "Other Pilot", roles = new[] { "pilot" }, stations = new[] { "QQBB" }, voidPin = true }, $"\"{pilot["version"]}\"")).Status);

        Assert.Equal(401, (await tablet.SendAsync(HttpMethod.Get, "/api/v1/cabin")).Status);
        Assert.Equal("pin-wrong", (await tablet.SignInAsync("pilot.b")).Body!["refusal"]!.GetValue<string>());
    }

    [Theory]
    [ClassData(typeof(BothDatabases))]
    public async Task Ticket_AwayFromItsDevice_OrPastItsTime_OrForMoreThanReporting_OpensNothing(DatabaseKind kind)
    {
        var host = await hosts.OnAsync(kind);
        using var tablet = await Tablet.EnrolledAsync(host);
        using var other = await Tablet.EnrolledAsync(host);
        using var stranger = Tablet.Of(host);
        Assert.Equal(401, (await stranger.SignInAsync("crew")).Status);
        await tablet.SignInAsync("admin");
        other.Borrow(tablet);
        stranger.Borrow(tablet);

        Assert.Equal(200, (await tablet.SendAsync(HttpMethod.Get, "/api/v1/cabin")).Status);
        Assert.Equal(401, (await other.SendAsync(HttpMethod.Get, "/api/v1/cabin")).Status);
        Assert.Equal(401, (await stranger.SendAsync(HttpMethod.Get, "/api/v1/cabin")).Status);
        Assert.Equal(403, (await tablet.SendAsync(HttpMethod.Get, "/api/v1/people")).Status);
        Assert.Equal(403, (await tablet.SendAsync(HttpMethod.Put, "/api/v1/me/pin", new { id = NewId.At(host.Clock.GetCurrentInstant()), password = SmallFleet.Password, pin = "481632" })).Status);
        host.Clock.Advance(Duration.FromDays(15));
        Assert.Equal(401, (await tablet.SendAsync(HttpMethod.Get, "/api/v1/cabin")).Status);
    }

    [Theory]
    [ClassData(typeof(BothDatabases))]
    public async Task Device_RevokedOrOnBoardOfOneTail_IsHeldToThat(DatabaseKind kind)
    {
        var host = await hosts.OnAsync(kind);
        using var tablet = await Tablet.EnrolledAsync(host, "QQ-TSB");
        await tablet.SignInAsync("crew");

        Assert.Equal("QQ-TSB", (await tablet.SendAsync(HttpMethod.Get, "/api/v1/cabin")).Body!["tails"]!.AsArray().Single()!["registration"]!.GetValue<string>());
        Assert.Equal(403, (await tablet.SendAsync(HttpMethod.Post, "/api/v1/reports", Station.Report(host, tail: "QQ-TSA"))).Status);
        var id = (await tablet.SendAsync(HttpMethod.Get, "/api/v1/devices/this")).Body!["device"]!["id"]!.GetValue<string>();
        Assert.Equal(200, (await (await host.ClientForAsync("admin")).SendAsync(HttpMethod.Post, $"/api/v1/devices/{id}/revocation", null)).Status);

        Assert.Equal(401, (await tablet.SendAsync(HttpMethod.Post, "/api/v1/reports", Station.Report(host, tail: "QQ-TSB"))).Status);
    }

    [Theory]
    [ClassData(typeof(BothDatabases))]
    public async Task Device_OfAStation_NamesTheTailsThatAreThere(DatabaseKind kind)
    {
        var host = await hosts.OnAsync(kind);
        using var tablet = await Tablet.EnrolledAsync(host, station: "QQBB");
        await tablet.SignInAsync("crew");

        var tails = (await tablet.SendAsync(HttpMethod.Get, "/api/v1/cabin")).Body!["tails"]!.AsArray();

        Assert.Equal(3, tails.Count);
        Assert.All(tails.Where(tail => tail!["here"]!.GetValue<bool>()), tail => Assert.Equal("QQ-TSC", tail!["registration"]!.GetValue<string>()));
    }

    [Theory]
    [InlineData("12345", "pin-digits")]
    [InlineData("12345a", "pin-digits")]
    [InlineData("234567", "pin-simple")]
    [InlineData("111222", "pin-simple")]
    public void Pin_ThatIsGuessed_IsNotTaken(string pin, string refusal) => Assert.Equal(refusal, Features.Devices.Pins.WhyNotChosen(pin)!.Code);
}
