using Drainboard.Data;
using Drainboard.Domain;
using Drainboard.Domain.Defects;
using Drainboard.Domain.Recurrence;
using Drainboard.Domain.Rectification;
using Drainboard.Testing;
using Drainboard.Testing.Databases;
using Microsoft.EntityFrameworkCore;

namespace Drainboard.Web.Tests.Stores;

/// <summary>A repeat flag is what the rule says of the facts, whatever order they came in.</summary>
public sealed class RepeatFlagsTests
{
    private static readonly string[] Rules = [.. RepeatRule.Presets.Select(rule => rule.Name)];

    /// <summary>Reports that come late, sorted anew, joined, taken back, flights put right, another rule: after each, the stored flags are those of a fresh look at everything.</summary>
    [Theory]
    [ClassData(typeof(BothDatabases))]
    public async Task Flags_WhateverChanges_AreThoseOfAFreshLook(DatabaseKind kind)
    {
        var stop = TestContext.Current.CancellationToken;
        var (started, reason) = await DrainboardHost.TryStartAsync(kind);
        Assert.SkipWhen(started is null, reason);
        await using var host = started!;
        var dice = new Random(20261126);
        var open = new List<string>();
        var (flown, flagged) = (0, 0);
        for (var step = 0; step < 100; step++)
        {
            host.Clock.AdvanceMinutes(dice.Next(30, 2000));
            switch (dice.Next(10))
            {
                case < 4:
                    open.Add(await ReportAsync(host, dice));
                    break;
                case < 7 when open.Count > 0:
                    await ReleaseAsync(host, Take(open, dice));
                    break;
                case 7 when open.Count > 1:
                    await Station.MustAsync(host, "tech", Take(open, dice), "merger", new { into = open[dice.Next(open.Count)], log = Station.Log(host.Clock.GetCurrentInstant()) });
                    break;
                case 8 when open.Count > 0:
                    await Station.MustAsync(host, "lead", Take(open, dice), "error", new { reason = "Reported on the wrong tail.", log = Station.Log(host.Clock.GetCurrentInstant()) });
                    break;
                default:
                    await FlyAsync(host, flown++, dice);
                    break;
            }

            if (step % 20 == 19)
            {
                await ChooseRuleAsync(host, Rules[(step / 20) % Rules.Length]);
            }

            await using var db = await host.Db.CreateDbContextAsync(stop);
            var stored = await db.Defects.AsNoTracking().OrderBy(defect => defect.Number).ToArrayAsync(stop);
            var fresh = await FreshAsync(db, stored, stop);
            Assert.Equal(stored.Select(defect => (defect.Number, fresh[defect.Id])), stored.Select(defect => (defect.Number, defect.Repeat)));
            flagged += stored.Count(defect => defect.Repeat is not null);
        }

        Assert.True(flagged > 50, $"Only {flagged} flags were seen: the walk says little.");
        await using var last = await host.Db.CreateDbContextAsync(stop);
        foreach (var tail in await last.Tails.AsNoTracking().ToArrayAsync(stop))
        {
            Assert.Equal(0, await last.RecountRepeatsAsync(tail.Id, stop));
        }
    }

    /// <summary>What was damaged behind the program's back is found and put right.</summary>
    [Theory]
    [ClassData(typeof(BothDatabases))]
    public async Task Recount_OfAFlagThatIsNotTheRules_PutsItRight(DatabaseKind kind)
    {
        var stop = TestContext.Current.CancellationToken;
        var (started, reason) = await DrainboardHost.TryStartAsync(kind);
        Assert.SkipWhen(started is null, reason);
        await using var host = started!;
        var id = new DefectId(Guid.Parse(await Station.OpenAsync(host)));
        await using (var db = await host.Db.CreateDbContextAsync(stop))
        {
            (await db.Defects.SingleAsync(defect => defect.Id == id, stop)).Flag(new RepeatFlag(9, 9, "none", "Nobody said so."));
            await db.SaveChangesAsync(stop);
        }

        await using var again = await host.Db.CreateDbContextAsync(stop);
        var tail = (await again.Defects.AsNoTracking().SingleAsync(defect => defect.Id == id, stop)).Tail;
        Assert.Equal(1, await again.RecountRepeatsAsync(tail, stop));
        Assert.Null((await again.Defects.AsNoTracking().SingleAsync(defect => defect.Id == id, stop)).Repeat);
    }

    /// <summary>Every flag from nothing but the rule and all the facts, by the plainest way there is.</summary>
    private static async Task<Dictionary<DefectId, RepeatFlag?>> FreshAsync(DrainboardDb db, Defect[] all, CancellationToken stop)
    {
        var rule = RepeatRule.Find((await db.Installations.AsNoTracking().SingleAsync(stop)).RepeatRule);
        var work = await db.Work.AsNoTracking().Where(done => done.Outcome == WorkOutcome.Rectified).ToDictionaryAsync(done => done.Defect, stop);
        var sectors = await db.Sectors.AsNoTracking().Where(sector => sector.Flown).ToArrayAsync(stop);
        WriteUp Of(Defect defect, bool newest) => new(defect.Id, defect.Symptom, defect.RecordedAt, sectors.Count(sector => sector.Tail == defect.Tail && sector.OnBlock <= defect.RecordedAt), newest ? null : defect.ClosedAt, newest || defect.Closure is null ? "" : work.TryGetValue(defect.Id, out var done) ? $"rectified ({done.Found.Words().ToLowerInvariant()})" : defect.Closure.Value.Words());
        var writeUps = all.Where(defect => defect.Closure is not (Closure.SameDefect or Closure.EnteredInError)).ToArray();
        return all.ToDictionary(defect => defect.Id, defect => !writeUps.Contains(defect) ? null : rule.Judge(writeUps.Where(other => other.Tail == defect.Tail && other.Position == defect.Position && other.RecordedAt < defect.RecordedAt && other.RecordedAt >= rule.LooksBackTo(defect.RecordedAt)).Select(other => Of(other, false)).Append(Of(defect, true))));
    }

    private static string Take(List<string> open, Random dice)
    {
        var taken = open[dice.Next(open.Count)];
        open.Remove(taken);
        return taken;
    }

    /// <summary>Logged up to four days before it is sent, and sorted, now and then as something else.</summary>
    private static async Task<string> ReportAsync(DrainboardHost host, Random dice)
    {
        var now = host.Clock.GetCurrentInstant();
        var seen = now - Duration.FromMinutes(dice.Next(3) == 0 ? dice.Next(1, 5760) : 0);
        var crew = await host.ClientForAsync("crew");
        var (status, body, _) = await crew.SendAsync(HttpMethod.Post, "/api/v1/reports", new { id = NewId.At(now), tail = "QQ-TSA", position = dice.Next(4) == 0 ? "K-2" : "K-1", symptom = "drainsSlowly", leak = "noneSeen", seenAt = Station.Iso(seen), phase = "inFlight", log = Station.Log(seen) });
        Assert.Equal(201, status);
        var id = body!["id"]!.GetValue<string>();
        await Station.MustAsync(host, "tech", id, "sorting", new { symptom = dice.Next(4) == 0 ? "noWater" : "doesNotDrain", leak = "noneSeen", log = (object?)null });
        return id;
    }

    private static async Task ReleaseAsync(DrainboardHost host, string defect)
    {
        await Station.MustAsync(host, "tech", defect, "rectification", Station.Work(host));
        await Station.MustAsync(host, "cert", defect, "rectification/release", new { outcome = "rectified", log = Station.Log(host.Clock.GetCurrentInstant(), "2"), signingCode = SmallFleet.SigningCode });
    }

    /// <summary>Flights come in late too: anywhere in the last days, where none is.</summary>
    private static async Task FlyAsync(DrainboardHost host, int number, Random dice)
    {
        var on = host.Clock.GetCurrentInstant() - Duration.FromMinutes(dice.Next(5, 4000));
        var (status, body, _) = await (await host.ClientForAsync("control")).SendAsync(HttpMethod.Put, $"/api/v1/sectors/F-{number}", new { tail = "QQ-TSA", from = "QQAA", to = "QQBB", offBlock = Station.Iso(on - Duration.FromMinutes(2)), onBlock = Station.Iso(on), flown = true });
        Assert.True(status is 200 or 201 || body?["refusal"]?.GetValue<string>() == "overlapping-sectors", $"{status} {body}");
    }

    private static async Task ChooseRuleAsync(DrainboardHost host, string rule)
    {
        var admin = await host.ClientForAsync("admin");
        var seen = (await admin.ReadAsync("/api/v1/installation"))["version"]!.GetValue<long>();
        var (status, body, _) = await admin.SendAsync(HttpMethod.Put, "/api/v1/installation", new { operatorName = "Test", mode = "besideLog", policy = "us", repeatRule = rule }, $"\"{seen}\"");
        Assert.True(status == 200, $"{status} {body}");
    }
}
