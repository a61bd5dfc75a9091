using System.Net;
using Drainboard.Testing.Databases;

namespace Drainboard.Web.Tests.Api;

public sealed class HeaderTests(Hosts hosts) : IClassFixture<Hosts>
{
    [Theory]
    [InlineData("/sign-in", false)]
    [InlineData("/api/v1/stations", false)]
    [InlineData("/board/QQAA", true)]
    public async Task Page_OfEachKind_CarriesItsPolicyOnce(string path, bool desk)
    {
        using var client = (await hosts.OnAsync(DatabaseKind.Sqlite)).CreateClient(new() { AllowAutoRedirect = false });
        using var answer = await client.GetAsync(new Uri(path, UriKind.Relative), TestContext.Current.CancellationToken);

        var policy = Assert.Single(answer.Headers.GetValues("Content-Security-Policy"));
        Assert.Contains("default-src 'none'", policy, StringComparison.Ordinal);
        Assert.Contains("frame-ancestors 'none'", policy, StringComparison.Ordinal);
        Assert.Contains("script-src 'self';", policy, StringComparison.Ordinal);
        Assert.Equal(desk, policy.Contains("'unsafe-inline'", StringComparison.Ordinal));
        Assert.Equal("nosniff", Assert.Single(answer.Headers.GetValues("X-Content-Type-Options")));
        Assert.Contains("no-store", answer.Headers.CacheControl?.ToString() ?? "", StringComparison.Ordinal);
        Assert.Equal("DENY", Assert.Single(answer.Headers.GetValues("X-Frame-Options")));
        Assert.False(answer.Headers.Contains("Server"));
    }

    /// <summary>ASVS 4.1.1: whatever is text says in which signs.</summary>
    [Theory]
    [InlineData("/look.css", "text/css")]
    [InlineData("/field.js", "text/javascript")]
    [InlineData("/icon.svg", "image/svg+xml")]
    [InlineData("/sign-in", "text/html")]
    public async Task Text_SaysItsCharset(string path, string type)
    {
        using var client = (await hosts.OnAsync(DatabaseKind.Sqlite)).CreateClient();
        using var answer = await client.GetAsync(new Uri(path, UriKind.Relative), TestContext.Current.CancellationToken);
        Assert.Equal((type, "utf-8"), (answer.Content.Headers.ContentType?.MediaType, answer.Content.Headers.ContentType?.CharSet));
    }

    [Theory]
    [InlineData("Sec-Fetch-Site", "cross-site")]
    [InlineData("Origin", "https://elsewhere.example")]
    public async Task Change_FromAnotherOrigin_IsRefused(string header, string value)
    {
        using var client = await (await hosts.OnAsync(DatabaseKind.Sqlite)).ClientForAsync("crew");
        using var request = new HttpRequestMessage(HttpMethod.Post, new Uri("/api/v1/reports", UriKind.Relative));
        request.Headers.Add(header, value);
        using var answer = await client.SendAsync(request, TestContext.Current.CancellationToken);

        Assert.Equal(HttpStatusCode.Forbidden, answer.StatusCode);
    }

    [Theory]
    [InlineData("/health/live")]
    [InlineData("/health/ready")]
    public async Task Health_IsOpenToABalancer(string path)
    {
        using var client = (await hosts.OnAsync(DatabaseKind.Sqlite)).CreateClient();
        using var answer = await client.GetAsync(new Uri(path, UriKind.Relative), TestContext.Current.CancellationToken);

        Assert.Equal(HttpStatusCode.OK, answer.StatusCode);
    }

    [Theory]
    [InlineData("/look.css")]
    [InlineData("/field.js")]
    [InlineData("/_content/MudBlazor/MudBlazor.min.css")]
    [InlineData("/_framework/blazor.web.js")]
    [InlineData("/fonts/atkinson-hyperlegible-next-latin-400-normal.woff2")]
    public async Task Asset_InProduction_IsServed(string path)
    {
        using var client = (await hosts.OnAsync(DatabaseKind.Sqlite)).CreateClient();
        using var answer = await client.GetAsync(new Uri(path, UriKind.Relative), TestContext.Current.CancellationToken);

        Assert.Equal(HttpStatusCode.OK, answer.StatusCode);
        Assert.NotEmpty(await answer.Content.ReadAsByteArrayAsync(TestContext.Current.CancellationToken));
    }
}
