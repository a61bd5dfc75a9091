using System.Text.Json;
using Drainboard.Testing;
using Drainboard.Testing.Databases;
using Microsoft.EntityFrameworkCore;
using Microsoft.Playwright;
using static Microsoft.Playwright.Assertions;

namespace Drainboard.Browser.Tests;

/// <summary>Signing in and out, with a password, a passkey, and where one is signed in elsewhere.</summary>
public sealed class SignInTests(Chromium chromium)
{
    private static CancellationToken Stop => TestContext.Current.CancellationToken;

    /// <summary>Signed out in one place, an open Board there goes at once, and a copy of the cookie opens nothing; the person's other device stays.</summary>
    [Theory]
    [InlineData(DatabaseKind.Sqlite)]
    [InlineData(DatabaseKind.Postgres)]
    public async Task SignOut_EndsOpenPagesAtOnce_AndCopiesOfTheCookie(DatabaseKind kind)
    {
        await using var host = await chromium.HostAsync(kind);
        await using var device = await chromium.DeviceAsync(host, 1280);
        await using var other = await chromium.DeviceAsync(host);
        var elsewhere = await other.SignInAsync("lead");
        var board = await device.SignInAsync("lead");
        await board.OpenAsync("/");
        var cookies = await device.CookiesAsync();
        var me = await device.NewPageAsync();
        await me.OpenAsync("/me");
        await me.SeesAsync("This browser, since");
        await Expect(me.Locator("section", new() { HasText = "Where you are signed in" }).GetByRole(AriaRole.Listitem)).ToHaveCountAsync(2);

        await me.PressAsync("Sign out");

        await Expect(board).ToHaveURLAsync(new System.Text.RegularExpressions.Regex("/sign-in\\?back="), new() { Timeout = 30_000 });
        await using var thief = await chromium.DeviceAsync(host);
        await thief.AddCookiesAsync(cookies.Select(cookie => new Cookie { Name = cookie.Name, Value = cookie.Value, Url = host.Address.ToString() }));
        var stolen = await thief.NewPageAsync();
        await stolen.GotoAsync("/me");
        Assert.Contains("/sign-in", stolen.Url, StringComparison.Ordinal);
        Assert.Equal(401, (await stolen.GotoAsync("/api/v1/me"))!.Status);
        await elsewhere.OpenAsync("/me");
        await elsewhere.SeesAsync("Lead Person");
    }

    /// <summary>A password that an administrator gave opens the account, signs nothing, and is replaced by the person's own; other browsers can be signed out.</summary>
    [Fact]
    public async Task GivenPassword_IsReplacedByOnesOwn_BeforeAnythingIsSigned()
    {
        await using var host = await chromium.HostAsync(DatabaseKind.Sqlite);
        var admin = await host.ClientForAsync("admin");
        var version = (await admin.ReadAsync("/api/v1/people")).AsArray().Single(person => (string?)person!["userName"] == "cert")!["version"]!.GetValue<long>();
        var changed = await admin.SendAsync(HttpMethod.Put, "/api/v1/people/cert", new { id = Domain.NewId.At(host.Clock.GetCurrentInstant()), name = "Cert Person", roles = new[] { "certifyingTechnician" }, stations = new[] { "QQAA" }, givePassword = true }, $"\"{version}\"");
        var given = (string?)changed.Body!["password"] ?? "";
        await using var device = await chromium.DeviceAsync(host);
        var page = await EnterAsync(device, "cert", given);
        await page.WaitForURLAsync("**/me");
        await page.SeesAsync("An administrator gave you the password");
        await OpenAsync(page, "Set a new signing code");
        await page.Locator("section", new() { HasText = "Your signing code" }).GetByLabel("Your password").FillAsync(given);
        await page.GetByLabel("New signing code").FillAsync("kettle-9");
        await page.Locator("section", new() { HasText = "Your signing code" }).GetByLabel("The same once more").FillAsync("kettle-9");
        await page.PressAsync("Set it");
        await page.IsRefusedAsync("Set a password of your own first");

        await SetAsync(page, given, "password password");
        await page.IsRefusedAsync("guessed early");
        await SetAsync(page, given, "four wet otters dancing");
        await page.WaitForURLAsync("**/sign-in");

        Assert.Contains("/sign-in", (await EnterAsync(device, "cert", given)).Url, StringComparison.Ordinal);
        page = await EnterAsync(device, "cert", "four wet otters dancing");
        await page.WaitForURLAsync(url => !url.Contains("sign-in", StringComparison.Ordinal));
        await using var db = await host.Db.CreateDbContextAsync(Stop);
        var person = await db.Users.SingleAsync(one => one.UserName == "cert", Stop);
        Assert.Equal((null, null, null), (person.PasswordGivenAt, person.SigningCodeHash, person.PinHash));
        var whose = new Domain.Accounts.PersonId(person.Id);
        Assert.Equal(1, await db.SignIns.CountAsync(row => row.Person == whose && row.EndedAt == null, Stop));
        Assert.Contains(await db.Record.Select(entry => entry.Words).ToArrayAsync(Stop), words => words.Contains("a password was given", StringComparison.Ordinal));
    }

    /// <summary>A passkey of a (virtual) authenticator, made on "Me" and used instead of the password; taken away, it opens nothing.</summary>
    [Fact]
    public async Task Passkey_MadeOnMe_SignsInWithoutAPassword()
    {
        await using var host = await chromium.HostAsync(DatabaseKind.Sqlite);
        await using var device = await chromium.DeviceAsync(new UriBuilder(host.Address) { Host = "localhost" }.Uri);
        var page = await EnterAsync(device, "tech", SmallFleet.Password);
        await page.WaitForURLAsync(url => !url.Contains("sign-in", StringComparison.Ordinal));
        await HasAnAuthenticatorAsync(device, page);
        await page.OpenAsync("/me");
        var panel = page.Locator("section", new() { HasText = "Your passkeys" });
        await OpenAsync(page, "Add a passkey");
        await panel.GetByLabel("Your password").FillAsync("not this one");
        await panel.GetByLabel("Name of it").FillAsync("my phone");
        await page.PressAsync("Make it");
        await page.IsRefusedAsync("This is not your password");
        await panel.GetByLabel("Your password").FillAsync(SmallFleet.Password);
        await page.PressAsync("Make it");
        await page.SeesAsync("my phone, added");

        await page.PressAsync("Sign out");
        await page.WaitForURLAsync("**/sign-in");
        await page.WaitForLoadStateAsync(LoadState.NetworkIdle);
        await page.PressAsync("Use a passkey");
        await page.WaitForURLAsync(url => !url.Contains("sign-in", StringComparison.Ordinal));
        await page.OpenAsync("/me");
        await page.SeesAsync("by passkey");
        await OpenAsync(page, "Take one away");
        await panel.Locator("form").GetByLabel("Your password").FillAsync(SmallFleet.Password);
        await page.PressAsync("Take it away");
        await page.SeesAsync("my phone is taken away");
        await Expect(page.Locator("main")).Not.ToContainTextAsync("my phone, added");
        await page.PressAsync("Sign out");
        await page.WaitForURLAsync("**/sign-in");
        await page.WaitForLoadStateAsync(LoadState.NetworkIdle);
        await page.PressAsync("Use a passkey");
        await page.IsRefusedAsync("opens no account here");
    }

    /// <summary>An account made on Set-up: its password is drawn, shown once, and the page asks whoever sits there for their own.</summary>
    [Fact]
    public async Task Person_AddedOnSetUp_ComesInWithADrawnPassword()
    {
        await using var host = await chromium.HostAsync(DatabaseKind.Sqlite);
        await using var desk = await chromium.DeviceAsync(host);
        var page = await EnterAsync(desk, "admin", SmallFleet.Password);
        await page.OpenAsync("/set-up/people");
        await page.PressAsync("Add a person");
        await page.GetByLabel("User name").FillAsync("new.hand");
        await page.GetByLabel("Name", new() { Exact = true }).FillAsync("New Hand");
        await page.GetByLabel("Technician", new() { Exact = true }).CheckAsync();
        await page.GetByLabel("Your own password").FillAsync("somebody else's");
        await page.PressAsync("Save");
        await page.IsRefusedAsync("This is not your password");
        await page.GetByLabel("Your own password").FillAsync(SmallFleet.Password);
        await page.PressAsync("Save");
        await page.SeesAsync("New Hand saved");
        var given = await page.Locator("#given-password").InnerTextAsync();

        await using var own = await chromium.DeviceAsync(host);
        var theirs = await EnterAsync(own, "new.hand", given);
        await theirs.WaitForURLAsync("**/me");
        await theirs.SeesAsync("An administrator gave you the password");
    }

    /// <summary>A role that signs in with a passkey: by password alone one gets as far as adding one, and having one, not even so far (ASVS 6.3.3, 6.4.3).</summary>
    [Fact]
    public async Task Role_ThatSignsInWithAPasskey_GetsByPasswordAsFarAsMe()
    {
        await using var host = await chromium.HostAsync(DatabaseKind.Sqlite);
        var admin = await host.ClientForAsync("admin");
        var seen = await admin.ReadAsync("/api/v1/installation");
        Assert.Equal(200, (await admin.SendAsync(HttpMethod.Put, "/api/v1/installation", new { operatorName = "Test", mode = "besideLog", policy = "us", repeatRule = "3-in-15-days", passkeyRoles = new[] { "technician" } }, $"\"{seen["version"]}\"")).Status);
        await using var device = await chromium.DeviceAsync(new UriBuilder(host.Address) { Host = "localhost" }.Uri);
        var page = await EnterAsync(device, "tech", SmallFleet.Password);
        await HasAnAuthenticatorAsync(device, page);
        await page.WaitForURLAsync("**/me");
        await page.SeesAsync("Your role signs in with a passkey");
        await page.GotoAsync("/board/QQAA");
        Assert.EndsWith("/me", page.Url, StringComparison.Ordinal);
        Assert.Equal(403, (await page.APIRequest.GetAsync("/api/v1/me")).Status);
        await MakePasskeyAsync(page, "my phone");
        await page.SeesAsync("You have one: sign out, and sign in with it");

        await page.PressAsync("Sign out");
        await page.WaitForURLAsync("**/sign-in");
        await page.WaitForLoadStateAsync(LoadState.NetworkIdle);
        await page.PressAsync("Use a passkey");
        await page.WaitForURLAsync(url => !url.Contains("sign-in", StringComparison.Ordinal));
        await page.OpenAsync("/board/QQAA");
        Assert.EndsWith("/board/QQAA", page.Url, StringComparison.Ordinal);

        await using var elsewhere = await chromium.DeviceAsync(new UriBuilder(host.Address) { Host = "localhost" }.Uri);
        var thief = await EnterAsync(elsewhere, "tech", SmallFleet.Password);
        await HasAnAuthenticatorAsync(elsewhere, thief);
        await thief.WaitForURLAsync("**/me");
        await thief.SeesAsync("You have one: sign out, and sign in with it");
        Assert.Equal(0, await thief.GetByText("Add a passkey").CountAsync());
        Assert.Contains("sign in with the passkey that you have", await thief.EvaluateAsync<string>("password => fetch('/passkeys/creation-options', { method: 'POST', headers: { 'Content-Type': 'application/json' }, body: JSON.stringify({ password }) }).then(answer => answer.text())", SmallFleet.Password), StringComparison.Ordinal);
    }

    private static async Task HasAnAuthenticatorAsync(IBrowserContext device, IPage page)
    {
        var tools = await device.NewCDPSessionAsync(page);
        await tools.SendAsync("WebAuthn.enable");
        await tools.SendAsync("WebAuthn.addVirtualAuthenticator", new() { ["options"] = new Dictionary<string, object> { ["protocol"] = "ctap2", ["transport"] = "internal", ["hasResidentKey"] = true, ["hasUserVerification"] = true, ["isUserVerified"] = true } });
    }

    private static async Task MakePasskeyAsync(IPage page, string name)
    {
        var panel = page.Locator("details", new() { HasText = "Add a passkey" });
        await OpenAsync(page, "Add a passkey");
        await panel.GetByLabel("Your password").FillAsync(SmallFleet.Password);
        await panel.GetByLabel("Name of it").FillAsync(name);
        await page.PressAsync("Make it");
    }

    private static async Task<IPage> EnterAsync(IBrowserContext device, string userName, string password)
    {
        var page = await device.NewPageAsync();
        await page.GotoAsync("/sign-in");
        await page.GetByLabel("User name").FillAsync(userName);
        await page.GetByLabel("Password").FillAsync(password);
        await page.PressAsync("Sign in");
        await page.WaitForLoadStateAsync(LoadState.NetworkIdle);
        return page;
    }

    private static Task OpenAsync(IPage page, string words) => page.Locator("summary", new() { HasText = words }).ClickAsync();

    private static async Task SetAsync(IPage page, string current, string password)
    {
        await page.GetByLabel("Password until now").FillAsync(current);
        await page.GetByLabel("New password").FillAsync(password);
        await page.Locator("section", new() { Has = page.GetByLabel("Password until now") }).GetByLabel("The same once more").FillAsync(password);
        await page.PressAsync("Set the password");
    }
}
