using Drainboard.Web.Hosting;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Http;
using Microsoft.Extensions.DependencyInjection;

namespace Drainboard.Web.Tests.Hosting;

/// <summary>Cookies over TLS carry the prefixes of RFC 6265bis (ASVS 3.3.1, 3.3.3), and the program does not see them.</summary>
public sealed class CookieNamesTests
{
    [Fact]
    public async Task OverTls_OnlyWhatHasItsPrefixIsRead_AndWhatIsSentHasOne()
    {
        var (read, sent) = await PassAsync("https", "__Host-drainboard=mine; drainboard=slipped-in; theme=dark; __Secure-drainboard-device=tablet; other=\"odd, value\"");
        Assert.Equal(("mine", null, "tablet"), (read["drainboard"], read["theme"], read["drainboard-device"]));
        Assert.Equal(["__Host-theme=night; path=/; secure; httponly", "__Secure-drainboard-device=tablet; path=/api/v1; secure", "__Host-drainboard=; expires=Thu, 01 Jan 1970 00:00:00 GMT; path=/; secure"], sent);
    }

    /// <summary>__Secure- may be set by another host of the domain, a plain name by anybody on the way.</summary>
    [Theory]
    [InlineData("__Secure-drainboard=slipped-in")]
    [InlineData("drainboard=slipped-in")]
    [InlineData("drainboard-device=planted")]
    public async Task OverTls_WhatAnotherHostMaySet_IsNotLookedAt(string cookie) => Assert.Equal(0, (await PassAsync("https", cookie)).Read.Count);

    [Fact]
    public async Task OverPlainHttp_NamesStayAsTheyAre()
    {
        var (read, sent) = await PassAsync("http", "drainboard=mine; theme=dark");
        Assert.Equal(("mine", "dark"), (read["drainboard"], read["theme"]));
        Assert.Equal("theme=night; path=/; httponly", sent[0]);
    }

    private static async Task<(IRequestCookieCollection Read, string[] Sent)> PassAsync(string scheme, string cookies)
    {
        var http = new DefaultHttpContext { Request = { Scheme = scheme, Headers = { Cookie = cookies } } };
        IRequestCookieCollection? read = null;
        var app = new ApplicationBuilder(new ServiceCollection().BuildServiceProvider());
        app.UseCookieNames();
        app.Run(inside =>
        {
            read = inside.Request.Cookies;
            inside.Response.Cookies.Append("theme", "night", new CookieOptions { HttpOnly = true });
            inside.Response.Cookies.Append("drainboard-device", "tablet", new CookieOptions { Path = "/api/v1" });
            inside.Response.Cookies.Delete("drainboard");
            return Task.CompletedTask;
        });
        await app.Build()(http);
        return (read!, [.. http.Response.Headers.SetCookie.OfType<string>()]);
    }
}
