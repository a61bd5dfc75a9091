using Drainboard.Domain.Accounts;
using Drainboard.Testing;
using Drainboard.Testing.Databases;
using Drainboard.Web.Features.SetUp;
using Microsoft.Playwright;
using static Microsoft.Playwright.Assertions;

namespace Drainboard.Browser.Tests;

/// <summary>A technician proposes to carry a toilet under an item that asks nothing of operations.</summary>
public sealed class DeferTests(Chromium chromium)
{
    [Fact]
    public async Task Toilet_ToBeCarried_AsksForTheUsualConditions()
    {
        await using var host = await chromium.HostAsync(DatabaseKind.Sqlite);
        var importer = (Importer)host.Services.GetService(typeof(Importer))!;
        var report = await importer.RunAsync(new Dictionary<string, string> { ["bases.csv"] = "kind,code,title,revision,category,kinds,installed,required,placardRequired,placardText\nmelItem,38-30,Toilet (invented),1,C,toilet,1,0,yes,LAVATORY INOPERATIVE\n" }, dry: false, Actor.Installation, TestContext.Current.CancellationToken);
        Assert.True(report.Clean);
        var defect = await Situations.OpenAsync(host, position: "T-A");
        await using var phone = await chromium.DeviceAsync(host, 390);
        var tech = await phone.SignInAsync("tech");
        await tech.OpenAsync($"/defects/{defect}/defer");
        await tech.GetByRole(AriaRole.Link, new() { NameRegex = new("38-30") }).ClickAsync();
        await tech.GetByRole(AriaRole.Checkbox, new() { Name = "(O) Lavatory locked." }).CheckAsync();
        await tech.GetByRole(AriaRole.Checkbox, new() { Name = "(O) Crew told to go on checking its smoke detection and waste bin extinguisher." }).CheckAsync();
        await tech.GetByRole(AriaRole.Checkbox, new() { Name = "Fitted" }).CheckAsync();
        await tech.GetByLabel("Where?").FillAsync("on the door");
        await tech.PressAsync("Propose it");
        await tech.SeesAsync("Still missing: control has not authorised it; the certifying technician has not signed.");
        await Expect(tech.GetByText("Done by Tech Person")).ToHaveCountAsync(2);
    }
}
