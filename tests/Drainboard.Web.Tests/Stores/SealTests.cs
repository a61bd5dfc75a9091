using System.Text;
using Drainboard.Domain.Fleet;
using Drainboard.Domain.Records;
using Drainboard.Testing;
using Drainboard.Testing.Databases;
using Drainboard.Web.Features.Records;
using Drainboard.Web.Features.Warnings;
using Drainboard.Web.Hosting;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.DependencyInjection;

namespace Drainboard.Web.Tests.Stores;

/// <summary>The daily seal: made once a day, provable from outside, and it finds what a chain alone cannot: one that was written anew from end to end.</summary>
public sealed class SealTests
{
    [Theory]
    [ClassData(typeof(BothDatabases))]
    public async Task Seal_OfTwoDays_IsPublishedAndProvableByItsProofsAlone(DatabaseKind kind)
    {
        var stop = TestContext.Current.CancellationToken;
        await using var host = await StartAsync(kind);
        var second = await SealTwiceAsync(host);
        var admin = await host.ClientForAsync("admin");

        var seals = (await admin.ReadAsync("/api/v1/record/seals")).AsArray();
        Assert.Equal([2, 1], seals.Select(seal => seal!["seal"]!.GetValue<int>()));
        Assert.Null(await host.Services.GetRequiredService<SealMaker>().RunAsync(stop));
        await host.Services.GetRequiredService<SealPublisher>().RunAsync(stop);
        await host.Services.GetRequiredService<SealPublisher>().RunAsync(stop);
        var lines = await File.ReadAllLinesAsync(Path.Combine(host.Services.GetRequiredService<Settings>().DataFolder, SealPublisher.FileName), stop);
        Assert.Equal(SealMaker.LineOf(second), lines[^1]);
        Assert.Equal(2, lines.Length);

        var chain = await ChainOfAsync(host);
        var head = await admin.ReadAsync($"/api/v1/record/seals/2/heads/{chain.Value}");
        var root = Convert.FromHexString(head["root"]!.GetValue<string>());
        Assert.True(MerkleTree.IsIncluded(MerkleTree.LeafHash(Encoding.UTF8.GetBytes(head["leaf"]!.GetValue<string>())), head["leafIndex"]!.GetValue<long>(), head["leaves"]!.GetValue<long>(), Steps(head["path"]!), root));

        var growth = await admin.ReadAsync("/api/v1/record/seals/2/growth?since=1");
        Assert.True(MerkleTree.IsConsistent(growth["before"]!["leaves"]!.GetValue<long>(), growth["after"]!["leaves"]!.GetValue<long>(), Convert.FromHexString(growth["before"]!["root"]!.GetValue<string>()), root, Steps(growth["path"]!)));
        Assert.Equal(404, (await admin.SendAsync(HttpMethod.Get, "/api/v1/record/seals/9/growth?since=1", null)).Status);

        var whole = await host.Services.GetRequiredService<RecordQuery>().VerifyAsync(stop, [.. lines.Select(SealMaker.Parse)]);
        Assert.True(whole.Whole, string.Join("; ", whole.Breaks.Select(broken => broken.Words)));
    }

    /// <summary>By mail to a real server, once each, also when a round is repeated; a line that a full disk cut short is published anew.</summary>
    [Fact]
    public async Task Seal_IsMailedOnce_AndATornFileIsMended()
    {
        var stop = TestContext.Current.CancellationToken;
        await using var host = await StartAsync(DatabaseKind.Sqlite);
        var second = await SealTwiceAsync(host);
        await using var sink = new MailSink();
        var settings = host.Services.GetRequiredService<Settings>() with { SealsTo = ["records@example.org", "auditor@example.org"] };
        var file = Path.Combine(settings.DataFolder, SealPublisher.FileName);
        var publisher = new SealPublisher(host.Db, settings, new MailSettings("localhost", sink.Port, false, "", "", "drainboard@example.org"));

        await publisher.RunAsync(stop);
        await File.WriteAllTextAsync(file, (await File.ReadAllTextAsync(file, stop))[..^20], stop);
        await publisher.RunAsync(stop);

        Assert.Equal(2, sink.Messages.Count);
        Assert.Contains(second.Root[..40], sink.Messages[1].Replace("=\r\n", "", StringComparison.Ordinal), StringComparison.Ordinal);
        Assert.Equal(2, (await publisher.ReadAsync(stop)).Count);
    }

    /// <summary>What a lead signed is held against the chain: a handover altered beside it is found.</summary>
    [Theory]
    [ClassData(typeof(BothDatabases))]
    public async Task Handover_AlteredInTheDatabase_IsFound(DatabaseKind kind)
    {
        var stop = TestContext.Current.CancellationToken;
        await using var host = await StartAsync(kind);
        var lead = await host.ClientForAsync("lead");
        var hash = (await lead.ReadAsync("/api/v1/stations/QQAA/handover"))["hash"]!.GetValue<string>();
        var (status, _, _) = await lead.SendAsync(HttpMethod.Post, "/api/v1/stations/QQAA/handovers", new { id = Domain.NewId.At(host.Clock.GetCurrentInstant()), hash, signingCode = SmallFleet.SigningCode });
        Assert.Equal(200, status);
        Assert.True((await host.Services.GetRequiredService<RecordQuery>().VerifyAsync(stop)).Whole);
        await using var db = await host.Db.CreateDbContextAsync(stop);
        var (before, after) = ("\"Done\":[]", "\"Done\":[{\"Tail\":\"QQ-TSA\",\"Defect\":null,\"What\":\"Sink\",\"Words\":\"Done.\"}]");
        await db.Database.ExecuteSqlAsync($"""UPDATE "Handovers" SET "Content" = replace("Content", {before}, {after})""", stop);

        Assert.Equal("handover-differs", Assert.Single((await host.Services.GetRequiredService<RecordQuery>().VerifyAsync(stop)).Breaks).Kind);
    }

    /// <summary>Somebody who owns the database writes a chain anew from its first entry: every link holds, and the seal says no.</summary>
    [Theory]
    [ClassData(typeof(BothDatabases))]
    public async Task Seal_OfAChainWrittenAnew_FindsIt(DatabaseKind kind)
    {
        var stop = TestContext.Current.CancellationToken;
        await using var host = await StartAsync(kind);
        await SealTwiceAsync(host);
        var chain = await ChainOfAsync(host);
        await using var db = await host.Db.CreateDbContextAsync(stop);
        await db.Database.ExecuteSqlRawAsync(kind == DatabaseKind.Postgres ? """ALTER TABLE "Record" DISABLE TRIGGER USER""" : "DROP TRIGGER record_stands_unchanged", stop);
        var hash = RecordEntry.BeforeFirst;
        foreach (var entry in await db.Record.AsNoTracking().Where(entry => entry.Chain == chain).OrderBy(entry => entry.Number).ToArrayAsync(stop))
        {
            var (before, payload, key, number) = (hash, entry.Payload.Replace("drains slowly", "drains well", StringComparison.Ordinal), chain.Value, entry.Number);
            hash = RecordEntry.HashOf(before, payload);
            var words = entry.Words.Replace("drains slowly", "drains well", StringComparison.Ordinal);
            await db.Database.ExecuteSqlAsync($"""UPDATE "Record" SET "Payload" = {payload}, "Words" = {words}, "PreviousHash" = {before}, "Hash" = {hash} WHERE "Chain" = {key} AND "Number" = {number}""", stop);
        }

        var chainKey = chain.Value;
        await db.Database.ExecuteSqlAsync($"""UPDATE "ChainHeads" SET "Hash" = {hash} WHERE "Chain" = {chainKey}""", stop);
        var found = await host.Services.GetRequiredService<RecordQuery>().VerifyAsync(stop);

        Assert.Equal(("sealed-differently", chain), Assert.Single(found.Breaks.Select(broken => (broken.Kind, broken.Chain))));
    }

    [Fact]
    public async Task Seal_PublishedWithAnotherRoot_IsFound()
    {
        var stop = TestContext.Current.CancellationToken;
        await using var host = await StartAsync(DatabaseKind.Sqlite);
        var second = await SealTwiceAsync(host);

        var found = await host.Services.GetRequiredService<RecordQuery>().VerifyAsync(stop, [new PublishedSeal(2, second.Leaves, new string('0', 64))]);

        Assert.Equal("published-differently", Assert.Single(found.Breaks).Kind);
        Assert.Throws<FormatException>(() => SealMaker.Parse("not a seal"));
    }

    private static async Task<DrainboardHost> StartAsync(DatabaseKind kind)
    {
        var (host, reason) = await DrainboardHost.TryStartAsync(kind, SmallFleet.Now);
        Assert.SkipWhen(host is null, reason);
        return host!;
    }

    /// <summary>The first seal is the start's own; the second is over what a day's work added.</summary>
    private static async Task<FleetSeal> SealTwiceAsync(DrainboardHost host)
    {
        var (stop, maker) = (TestContext.Current.CancellationToken, host.Services.GetRequiredService<SealMaker>());
        await Station.OpenAsync(host);
        await maker.RunAsync(stop);
        host.Clock.Advance(Duration.FromDays(1));
        await Station.ReportedAsync(host, position: "K-2");
        return (await maker.RunAsync(stop))!;
    }

    private static async Task<ChainKey> ChainOfAsync(DrainboardHost host)
    {
        await using var db = await host.Db.CreateDbContextAsync(TestContext.Current.CancellationToken);
        var mark = Registration.Parse("QQ-TSA");
        return ChainKey.For(await db.Tails.Where(tail => tail.Registration == mark).Select(tail => tail.Id).SingleAsync(TestContext.Current.CancellationToken));
    }

    private static byte[][] Steps(System.Text.Json.Nodes.JsonNode path) => [.. path.AsArray().Select(step => Convert.FromHexString(step!.GetValue<string>()))];
}
