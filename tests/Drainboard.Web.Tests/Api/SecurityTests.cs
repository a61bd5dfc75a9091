using System.Buffers.Binary;
using System.Net;
using System.Security.Claims;
using Drainboard.Data.Accounts;
using Drainboard.Domain;
using Drainboard.Testing;
using Drainboard.Testing.Databases;
using Drainboard.Web.Features.Accounts;
using Microsoft.AspNetCore.DataProtection;
using Microsoft.AspNetCore.Identity;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.DependencyInjection;

namespace Drainboard.Web.Tests.Api;

/// <summary>Properties that OWASP ASVS 5.0.0 asks for and that no other test looks at; each names its requirement.</summary>
public sealed class SecurityTests(Hosts hosts) : IClassFixture<Hosts>
{
    private static CancellationToken Stop => TestContext.Current.CancellationToken;

    /// <summary>ASVS 3.4.2, 3.4.5.</summary>
    [Theory]
    [InlineData("/sign-in")]
    [InlineData("/api/v1/stations")]
    public async Task AnotherOrigin_IsGivenNothing_AndNoAddress(string path)
    {
        using var client = (await hosts.OnAsync(DatabaseKind.Sqlite)).CreateClient();
        using var request = new HttpRequestMessage(HttpMethod.Get, path);
        request.Headers.Add("Origin", "https://elsewhere.example");
        using var answer = await client.SendAsync(request, Stop);

        Assert.DoesNotContain(answer.Headers, header => header.Key.StartsWith("Access-Control-", StringComparison.OrdinalIgnoreCase));
        Assert.Equal("same-origin", Assert.Single(answer.Headers.GetValues("Referrer-Policy")));
    }

    /// <summary>ASVS 13.4.4, 13.4.3.</summary>
    [Fact]
    public async Task Trace_AndFolders_AreNotAnswered()
    {
        using var client = (await hosts.OnAsync(DatabaseKind.Sqlite)).CreateClient(new() { AllowAutoRedirect = false });
        using var trace = new HttpRequestMessage(HttpMethod.Trace, "/sign-in");
        trace.Headers.Add("X-Told", "an echo");
        using var answer = await client.SendAsync(trace, Stop);
        Assert.NotEqual(HttpStatusCode.OK, answer.StatusCode);
        Assert.DoesNotContain("an echo", await answer.Content.ReadAsStringAsync(Stop), StringComparison.Ordinal);

        using var folder = await client.GetAsync(new Uri("/report/", UriKind.Relative), Stop);
        Assert.DoesNotContain("form.js</a>", await folder.Content.ReadAsStringAsync(Stop), StringComparison.Ordinal);
    }

    /// <summary>ASVS 6.2.6, 6.2.7: masked, and open to a manager of passwords.</summary>
    [Fact]
    public async Task PasswordField_IsMasked_AndSaysWhatItIs()
    {
        using var client = (await hosts.OnAsync(DatabaseKind.Sqlite)).CreateClient();
        var page = await client.GetStringAsync(new Uri("/sign-in", UriKind.Relative), Stop);

        var field = Assert.Single(page.Split("<input").Skip(1).Select(part => part[..part.IndexOf('>', StringComparison.Ordinal)]), part => part.Contains("current-password", StringComparison.Ordinal));
        Assert.Contains("type=\"password\"", field, StringComparison.Ordinal);
        Assert.DoesNotContain("onpaste", page, StringComparison.OrdinalIgnoreCase);
    }

    /// <summary>ASVS 6.2.8: as typed, to the last blank.</summary>
    [Fact]
    public async Task Password_WithABlankMore_IsAnother()
    {
        var host = await hosts.OnAsync(DatabaseKind.Sqlite);
        var lead = await host.ClientForAsync("lead");
        foreach (var almost in new[] { SmallFleet.Password + " ", SmallFleet.Password.ToUpperInvariant() })
        {
            var answer = await lead.SendAsync(HttpMethod.Put, "/api/v1/me/password", new { id = NewId.At(host.Clock.GetCurrentInstant()), current = almost, password = "four wet otters dancing" });
            Assert.Equal("password-wrong", (string?)answer.Body!["refusal"]);
        }
    }

    /// <summary>ASVS 7.3.2.</summary>
    [Theory]
    [ClassData(typeof(BothDatabases))]
    public async Task SignIn_OfSevenDaysAgo_OpensNothing(DatabaseKind kind)
    {
        var host = await hosts.OnAsync(kind);
        var (actor, now) = (await host.ActorAsync("pilot"), host.Clock.GetCurrentInstant());
        var (old, young) = (Begun(SignIn.Longest), Begun(SignIn.Longest - Duration.FromMinutes(1)));
        await using var db = await host.Db.CreateDbContextAsync(Stop);
        db.SignIns.AddRange(old, young);
        await db.SaveChangesAsync(Stop);
        var signIns = host.Services.GetRequiredService<SignIns>();

        Assert.Equal(Duration.FromDays(7), SignIn.Longest);
        Assert.False(await signIns.IsOpenAsync(Cookie(old), Stop));
        Assert.True(await signIns.IsOpenAsync(Cookie(young), Stop));

        SignIn Begun(Duration ago) => new(NewId.At(now), actor.Person, SignInMeans.Password, "a browser", now - ago);
        static ClaimsPrincipal Cookie(SignIn row) => new(new ClaimsIdentity([new Claim(SignIns.Claim, $"{row.Id}")]));
    }

    /// <summary>ASVS 8.2.3: what is told of people holds no secret and no hash of one.</summary>
    [Theory]
    [InlineData("/api/v1/people")]
    [InlineData("/api/v1/me")]
    [InlineData("/api/v1/installation")]
    public async Task People_AreToldOf_WithoutTheirSecrets(string path)
    {
        var host = await hosts.OnAsync(DatabaseKind.Sqlite);
        var told = (await (await host.ClientForAsync("admin")).ReadAsync(path)).ToJsonString();
        await using var db = await host.Db.CreateDbContextAsync(Stop);
        foreach (var person in await db.Users.AsNoTracking().ToArrayAsync(Stop))
        {
            Assert.All(new[] { person.PasswordHash, person.SigningCodeHash, person.PinHash, person.SecurityStamp }.OfType<string>(), secret => Assert.DoesNotContain(secret, told, StringComparison.Ordinal));
        }

        Assert.DoesNotContain("hash\"", told, StringComparison.OrdinalIgnoreCase);
    }

    /// <summary>ASVS 11.3.1 to 11.3.3: what is protected for a browser or a tablet is sealed by AES-256 with GCM, and damage to it is noticed.</summary>
    [Fact]
    public async Task Protection_IsAuthenticated_ByTheApprovedCipher()
    {
        var host = await hosts.OnAsync(DatabaseKind.Sqlite);
        var protector = host.Services.GetRequiredService<IDataProtectionProvider>().CreateProtector("a test");
        var sealedText = protector.Protect("what it was"u8.ToArray());
        sealedText[^5] ^= 1;
        await using var db = await host.Db.CreateDbContextAsync(Stop);

        Assert.ThrowsAny<System.Security.Cryptography.CryptographicException>(() => protector.Unprotect(sealedText));
        Assert.All(await db.DataProtectionKeys.Select(key => key.Xml!).ToArrayAsync(Stop), key => Assert.Contains("AES_256_GCM", key, StringComparison.Ordinal));
    }

    /// <summary>ASVS 11.4.2, with OWASP's figure for PBKDF2-HMAC-SHA512 (Password Storage Cheat Sheet): 210,000 rounds. The layout of the hash is ASP.NET Core Identity's version 3.</summary>
    [Fact]
    public async Task Passwords_AreHashedSlowly()
    {
        var host = await hosts.OnAsync(DatabaseKind.Sqlite);
        var hash = Convert.FromBase64String(host.Services.GetRequiredService<IPasswordHasher<Person>>().HashPassword(new Person(), "four wet otters dancing"));

        Assert.Equal((1, 2u, 210_000u, 16u), (hash[0], BinaryPrimitives.ReadUInt32BigEndian(hash.AsSpan(1)), BinaryPrimitives.ReadUInt32BigEndian(hash.AsSpan(5)), BinaryPrimitives.ReadUInt32BigEndian(hash.AsSpan(9))));
    }
}
