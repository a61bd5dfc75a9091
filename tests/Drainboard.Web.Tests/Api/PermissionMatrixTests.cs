using Drainboard.Domain.Accounts;
using Drainboard.Testing;
using Drainboard.Testing.Databases;
using Drainboard.Web.Features.Door;
using Microsoft.AspNetCore.Authorization;
using Microsoft.AspNetCore.Routing;
using Microsoft.Extensions.DependencyInjection;
using static Drainboard.Web.Tests.Api.EveryEndpoint;

namespace Drainboard.Web.Tests.Api;

/// <summary>
/// Generated from the table in Domain and from the endpoints themselves: every endpoint is asked for by every role, at the station that
/// has the aircraft and at another one.
/// </summary>
public sealed class PermissionMatrixTests(Hosts hosts) : IClassFixture<Hosts>
{
    private static readonly Dictionary<Role, string> People = new()
    {
        [Role.CabinCrew] = "crew",
        [Role.Technician] = "tech",
        [Role.CertifyingTechnician] = "cert",
        [Role.ShiftLead] = "lead",
        [Role.MaintenanceController] = "control",
        [Role.Pilot] = "pilot",
        [Role.ContractTechnician] = "contract",
        [Role.ReliabilityEngineer] = "engineer",
        [Role.Administrator] = "admin",
    };

    [Theory]
    [ClassData(typeof(BothDatabases))]
    public async Task EveryEndpoint_ForEveryRoleAndStation_IsOpenJustWhereTheTableSays(DatabaseKind kind)
    {
        var host = await hosts.OnAsync(kind);
        var wrong = new List<string>();

        // One defect serves: who may, and where, is asked before the version and the rule.
        var defect = await Station.OpenAsync(host);
        foreach (var endpoint in Endpoints(host))
        {
            var act = endpoint.Metadata.GetRequiredMetadata<ActOf>().Act;
            var row = Permissions.For(act);
            foreach (var (role, name) in People)
            {
                foreach (var own in new[] { true, false })
                {
                    var status = await AskAsync(host, endpoint, own ? name : $"{name}.b", defect);
                    var expected = row.Roles.Contains(role) && (own || !row.AtOwnStation) && (role != Role.ContractTechnician || !own || IsOpenToGuests(endpoint));
                    if (expected == (status == 403) || status is 401 or >= 500)
                    {
                        wrong.Add($"{Describe(endpoint)} as {role} at {(own ? "own" : "another")} station: {status}");
                    }
                }
            }
        }

        Assert.True(wrong.Count == 0, string.Join(Environment.NewLine, wrong));
    }

    /// <summary>A key of somebody who may everything that the endpoint asks, with one scope at a time: it opens where the table says, and nowhere else.</summary>
    [Fact]
    public async Task EveryEndpoint_ForEveryScopeOfAKey_IsOpenForItsOwnAlone()
    {
        var host = await hosts.OnAsync(DatabaseKind.Sqlite);
        var wrong = new List<string>();
        var defect = await Station.OpenAsync(host);
        foreach (var endpoint in Endpoints(host))
        {
            var row = Permissions.For(endpoint.Metadata.GetRequiredMetadata<ActOf>().Act);
            var who = People[row.Roles.First(role => role != Role.ContractTechnician)];
            foreach (var scope in Enum.GetValues<ApiScope>())
            {
                var status = await AskAsync(host, endpoint, who, defect, scope);
                if ((scope == row.Scope) == (status == 403) || status is 401 or >= 500)
                {
                    wrong.Add($"{Describe(endpoint)} with a key for {scope}: {status}");
                }
            }
        }

        Assert.True(wrong.Count == 0, string.Join(Environment.NewLine, wrong));
    }

    [Fact]
    public async Task EveryEndpoint_WithoutSignIn_IsClosedUnlessItSaysOtherwise()
    {
        var host = await hosts.OnAsync(DatabaseKind.Sqlite);
        using var nobody = host.CreateClient();
        foreach (var endpoint in Endpoints(host))
        {
            var (status, _, _) = await nobody.SendAsync(new HttpMethod(Method(endpoint)), Fill(endpoint, Guid.Empty.ToString()), null);
            Assert.True(status == 401, $"{Describe(endpoint)}: {status}");
        }
    }

    [Fact]
    public async Task EveryRoute_NamesItsActOrIsOpenOnPurpose()
    {
        var host = await hosts.OnAsync(DatabaseKind.Sqlite);
        var source = host.Services.GetRequiredService<EndpointDataSource>();
        var unnamed = source.Endpoints.OfType<RouteEndpoint>()
            .Where(endpoint => endpoint.RoutePattern.RawText?.StartsWith("/api/", StringComparison.Ordinal) == true && !endpoint.RoutePattern.RawText.Contains("**", StringComparison.Ordinal) && !endpoint.RoutePattern.RawText.Contains("{*", StringComparison.Ordinal))
            .Where(endpoint => endpoint.Metadata.GetMetadata<ActOf>() is null && endpoint.Metadata.GetMetadata<IAllowAnonymous>() is null);

        Assert.Empty(unnamed.Select(Describe));
    }

    /// <summary>What stands outside the table is named here, one by one: whoever adds to it says so. Everything else asks for a person first.</summary>
    [Fact]
    public async Task OpenToAnybody_IsWhatIsNamedHere_AndNothingElse()
    {
        var host = await hosts.OnAsync(DatabaseKind.Sqlite);
        var source = host.Services.GetRequiredService<EndpointDataSource>();
        var outside = source.Endpoints.OfType<RouteEndpoint>().Where(endpoint => endpoint.Metadata.GetMetadata<ActOf>() is null).ToArray();
        using var nobody = host.CreateClient(new() { AllowAutoRedirect = false });
        var wrong = new List<string>();
        foreach (var endpoint in outside.Where(endpoint => endpoint.Metadata.GetMetadata<IAllowAnonymous>() is null && endpoint.Metadata.GetMetadata<HttpMethodMetadata>() is { HttpMethods: [var method, ..] } && method is "GET"))
        {
            using var answer = await nobody.GetAsync(new Uri(Fill(endpoint, Guid.Empty.ToString()), UriKind.Relative), TestContext.Current.CancellationToken);
            if (answer.StatusCode is not System.Net.HttpStatusCode.Unauthorized && answer.Headers.Location?.ToString().Contains("/sign-in", StringComparison.Ordinal) != true)
            {
                wrong.Add($"{Describe(endpoint)}: {(int)answer.StatusCode}");
            }
        }

        Assert.Equal("", string.Join(Environment.NewLine, wrong));
        string[] named =
        [
            "GET /api/v1/devices/this", "GET /calendar/{secret}.ics", "GET /health/live", "GET /health/ready", "GET /report", "GET /report-sw.js", "GET /set-up/first", "GET /sign-in", "GET /theme/{to}", "GET /trouble",
            "POST /api/v1/devices/this/enrolment", "POST /api/v1/devices/this/sign-in", "POST /passkeys/request-options", "POST /passkeys/sign-in",
        ];

        // Files of the program, for whoever is about to sign in, stand without a stroke before them.
        Assert.Equal(named, outside.Where(endpoint => endpoint.Metadata.GetMetadata<IAllowAnonymous>() is not null && endpoint.RoutePattern.RawText!.StartsWith('/')).Select(Describe).Distinct().Order(StringComparer.Ordinal));
    }

    [Fact]
    public async Task GuestForOneTail_OnAnotherTail_IsRefused()
    {
        var host = await hosts.OnAsync(DatabaseKind.Sqlite);
        var defect = await Station.OpenAsync(host, "QQ-TSB");

        var (status, body, _) = await (await host.ClientForAsync("contract")).SendAsync(HttpMethod.Post, $"/api/v1/defects/{defect}/corrections", new { words = "Not mine." }, "\"1\"");

        Assert.Equal((403, "not-your-tail"), (status, body!["refusal"]!.GetValue<string>()));
    }

    [Fact]
    public async Task GuestForOneTail_AskingAnything_GetsTheirTailAndWhatIsSaidToBeOpen()
    {
        var host = await hosts.OnAsync(DatabaseKind.Sqlite);
        await GuestAsync(host, "guest.b", "QQ-TSB");
        var defect = await Station.OpenAsync(host, "QQ-TSA");
        var open = new List<string>();
        foreach (var endpoint in Endpoints(host).Where(endpoint => Method(endpoint) == "GET"))
        {
            if (await AskAsync(host, endpoint, "guest.b", defect) != 403)
            {
                open.Add(Describe(endpoint)["GET /api/v1/".Length..]);
            }
        }

        Assert.Equal(["advice-terms", "bases", "cabin", "cabin/{registration}", "defects/", "defects/lifecycle", "installation", "layouts", "me", "photos/{sha256}", "policies", "reports/mine", "reports/{id:guid}/photos/{sha256}", "stations", "work-cards/", "work-cards/{code}"], open.Order(StringComparer.Ordinal));
        Assert.All((await (await host.ClientForAsync("guest.b")).ReadAsync("/api/v1/defects"))["lines"]!.AsArray(), line => Assert.Equal("QQ-TSB", line!["tail"]!.GetValue<string>()));
        Assert.Equal(404, (await (await host.ClientForAsync("guest.b")).SendAsync(HttpMethod.Get, "/api/v1/defects?tail=QQ-TSA", null)).Status);
        Assert.Equal(404, (await (await host.ClientForAsync("guest.b")).SendAsync(HttpMethod.Get, "/api/v1/cabin/QQ-TSA", null)).Status);
    }

    private static async Task GuestAsync(DrainboardHost host, string name, string tail)
    {
        var admin = await host.ClientForAsync("admin");
        admin.DefaultRequestHeaders.TryAddWithoutValidation("If-None-Match", "*");
        Assert.Equal(200, (await admin.SendAsync(HttpMethod.Put, $"/api/v1/people/{name}", new { id = Domain.NewId.At(host.Clock.GetCurrentInstant()), name = "Guest", roles = Enum.GetNames<Role>().Where(role => role != "Administrator").Select(System.Text.Json.JsonNamingPolicy.CamelCase.ConvertName), onlyTail = tail })).Status);
    }

    private static bool IsOpenToGuests(RouteEndpoint endpoint) =>
        endpoint.Metadata.GetMetadata<Features.Accounts.OpenToGuestsAttribute>() is not null || endpoint.RoutePattern.RawText!.Contains("/{registration}", StringComparison.Ordinal) || endpoint.RoutePattern.RawText.Contains("/defects/{id:guid}", StringComparison.Ordinal);

    [Fact]
    public async Task KeyWithOneScope_BeyondIt_IsRefused()
    {
        var host = await hosts.OnAsync(DatabaseKind.Sqlite);
        var reader = await host.ClientForAsync("admin", ApiScope.Read);

        Assert.Equal(200, (await reader.SendAsync(HttpMethod.Get, "/api/v1/stations", null)).Status);
        Assert.Equal(403, (await reader.SendAsync(HttpMethod.Get, "/api/v1/people", null)).Status);
    }
}
