using Drainboard.Domain.Accounts;
using Drainboard.Testing;
using Drainboard.Testing.Databases;
using Drainboard.Web.Features.Live;
using Drainboard.Web.Features.SetUp;
using Microsoft.Extensions.DependencyInjection;

namespace Drainboard.Web.Tests.Api;

public sealed class ImportTests(Hosts hosts) : IClassFixture<Hosts>
{
    [Theory]
    [ClassData(typeof(BothDatabases))]
    public async Task Import_SameFilesAgain_ChangesNothing(DatabaseKind kind)
    {
        var host = await hosts.OnAsync(kind);

        var report = await RunAsync(host, SmallFleet.Files(SmallFleet.Now));

        Assert.Empty(report.Faults);
        Assert.Equal(0, report.Moved);
        Assert.False(report.Saved);
    }

    [Theory]
    [ClassData(typeof(BothDatabases))]
    public async Task Import_WithFaults_NamesFileRowColumnAndSavesNothing(DatabaseKind kind)
    {
        var host = await hosts.OnAsync(kind);
        var report = await RunAsync(host, new Dictionary<string, string>
        {
            ["stations.csv"] = "code,name,zone\nQQCC,Third Strand,Mars/Olympus\nQQ,Short,Etc/UTC\nQQDD,Good,Etc/UTC\n",
            ["tails.csv"] = "registration,layout,version\nQQ-TSZ,T9,1\n",
            ["fixtures.csv"] = "layout,version,position,kind\nT1,1,K-1,galleySink\n",
            ["turns.json"] = """[{"key":"X","tail":"QQ-TSA","station":"QQAA","estimatedArrival":"2026-01-26T10:00:00","estimatedDeparture":"2026-01-26T09:00:00Z"}]""",
            ["surprise.csv"] = "a\n1\n",
        });

        Assert.False(report.Saved);
        AssertFault(report, "stations.csv", 2, "zone", "IANA");
        AssertFault(report, "stations.csv", 3, "code", "four letters");
        AssertFault(report, "tails.csv", 2, "layout", "neither stored nor in this import");
        AssertFault(report, "fixtures.csv", null, "name", "missing");
        AssertFault(report, "turns.json", 1, "estimatedArrival", "offset");
        AssertFault(report, "surprise.csv", null, null, "No table");
        Assert.DoesNotContain((await (await host.ClientForAsync("admin")).ReadAsync("/api/v1/stations")).AsArray(), station => station!["code"]!.GetValue<string>() == "QQDD");
    }

    [Theory]
    [ClassData(typeof(BothDatabases))]
    public async Task Import_LayoutThatMixesWaters_IsRefusedByThePlumbingRules(DatabaseKind kind)
    {
        var host = await hosts.OnAsync(kind);
        var files = SmallFleet.Files(SmallFleet.Now).Where(file => file.Key is "layouts.csv" or "fixtures.csv" or "connections.csv").ToDictionary(file => file.Key, file => file.Value.Replace("T1,1", "T2,1", StringComparison.Ordinal));
        files["connections.csv"] += "\nT2,1,drainage,K-1,PT-1\n";

        var report = await RunAsync(host, files);

        Assert.Contains(report.Faults, fault => fault.Words.Contains("may hold potable water only", StringComparison.Ordinal));
    }

    [Theory]
    [ClassData(typeof(BothDatabases))]
    public async Task Import_StoredLayoutVersionWithAnotherDrawing_AsksForTheNextVersion(DatabaseKind kind)
    {
        var host = await hosts.OnAsync(kind);
        var files = SmallFleet.Files(SmallFleet.Now).Where(file => file.Key is "layouts.csv" or "fixtures.csv" or "connections.csv").ToDictionary();
        files["layouts.csv"] = files["layouts.csv"].Replace("100", "101", StringComparison.Ordinal);

        AssertFault(await RunAsync(host, files), "layouts.csv", 2, "version", "give this one version 2");
    }

    /// <summary>Nothing about an aircraft is recorded before it was here.</summary>
    [Theory]
    [ClassData(typeof(BothDatabases))]
    public async Task Report_OfATimeBeforeTheTailWasDelivered_IsRefused(DatabaseKind kind)
    {
        var host = await hosts.OnAsync(kind);
        await RunAsync(host, new Dictionary<string, string> { ["tails.csv"] = "registration,layout,version,deliveredOn\nQQ-TSD,T1,1,2026-01-27\n" });

        var (status, body, _) = await (await host.ClientForAsync("crew")).SendAsync(HttpMethod.Post, "/api/v1/reports", Station.Report(host, tail: "QQ-TSD"));

        Assert.Equal((422, "before-delivery"), (status, body!["refusal"]!.GetValue<string>()));
    }

    /// <summary>Whoever has a page open looks at once whether they still may: an import says of nobody by name that their account changed.</summary>
    [Theory]
    [ClassData(typeof(BothDatabases))]
    public async Task Import_OfPeople_LetsEveryOpenPageLookAgain(DatabaseKind kind)
    {
        var host = await hosts.OnAsync(kind);
        var told = new TaskCompletionSource();
        var feed = host.Services.GetRequiredService<ChangeFeed>();
        void Hear(IReadOnlySet<Guid> about)
        {
            if (about.Contains(Guid.Empty))
            {
                told.TrySetResult();
            }
        }

        feed.SignInsChanged += Hear;
        try
        {
            var report = await RunAsync(host, new Dictionary<string, string> { ["people.csv"] = "userName,name,roles\nlater,Robin Later,cabinCrew\n" });

            Assert.Empty(report.Faults);
            Assert.True(report.Saved);
            await told.Task.WaitAsync(TimeSpan.FromSeconds(30), TestContext.Current.CancellationToken);
        }
        finally
        {
            feed.SignInsChanged -= Hear;
        }
    }

    [Theory]
    [ClassData(typeof(BothDatabases))]
    public async Task Import_OfADelayedTurn_MovesItByItsKey(DatabaseKind kind)
    {
        var host = await hosts.OnAsync(kind);
        var report = await RunAsync(host, new Dictionary<string, string> { ["turns.csv"] = "key,tail,station,estimatedArrival,estimatedDeparture\nT-C,QQ-TSC,QQBB,2026-01-26T09:30:00Z,2026-01-26T16:30:00Z\n" });

        Assert.True(report.Saved, string.Join("; ", report.Faults));
        Assert.Equal("2026-01-26T16:30:00Z", (await (await host.ClientForAsync("admin")).ReadAsync("/api/v1/tails/QQ-TSC"))["turns"]![0]!["departsAt"]!.GetValue<string>());

        await RunAsync(host, SmallFleet.Files(SmallFleet.Now).Where(file => file.Key == "turns.csv").ToDictionary());
    }

    private static Task<ImportReport> RunAsync(DrainboardHost host, IReadOnlyDictionary<string, string> files) =>
        host.Services.GetRequiredService<Importer>().RunAsync(files, dry: false, Actor.Installation, TestContext.Current.CancellationToken);

    private static void AssertFault(ImportReport report, string file, int? row, string? column, string words) =>
        Assert.True(report.Faults.Any(fault => (fault.File, fault.Row, fault.Column) == (file, row, column) && fault.Words.Contains(words, StringComparison.Ordinal)), $"No fault at {file} {row} {column} with \"{words}\" among: {string.Join(Environment.NewLine, report.Faults)}");
}
