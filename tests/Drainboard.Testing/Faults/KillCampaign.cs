using System.Diagnostics;
using Drainboard.Data;
using Drainboard.Domain;
using Drainboard.Domain.Accounts;
using Drainboard.Domain.Warnings;
using Drainboard.Testing.Databases;
using Drainboard.Testing.Processes;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.DependencyInjection;
using NodaTime;

namespace Drainboard.Testing.Faults;

/// <summary>Who is killed.</summary>
public enum Victim
{
    /// <summary>The one web process on the embedded database, which dies with it.</summary>
    EmbeddedProcess,

    /// <summary>One of two web processes on PostgreSQL.</summary>
    WebProcess,

    /// <summary>PostgreSQL itself, all of it.</summary>
    Postgres,
}

/// <summary>
/// kill -9 at random moments while clients write as fast as they can, again and again; then everything that was acknowledged must be there once,
/// nothing that was not sent, every chain of the record whole, every defect as one copy of it would have answered, and each report warned of once.
/// </summary>
public sealed class KillCampaign(Victim victim, int kills, int seed, IProgress<string>? progress = null)
{
    private const int Clients = 6;
    private readonly Random _dice = new(seed);

    /// <returns>What was counted, in the order of the table in docs/reliability.md, and what was wrong.</returns>
    public async Task<(KillCounts Counts, IReadOnlyList<string> Faults)> RunAsync()
    {
        var folder = Directory.CreateTempSubdirectory("drainboard-kills-").FullName;
        var cluster = victim == Victim.EmbeddedProcess ? null : await PostgresCluster.StartAsync(PostgresCluster.Durable);
        try
        {
            await (cluster?.RunAsync("CREATE DATABASE airline") ?? Task.CompletedTask);
            var setting = cluster?["airline"] ?? $"Data Source={Path.Combine(folder, "station.db")}";
            var (crew, technician) = await LoadAsync(setting);
            var web = Enumerable.Range(0, cluster is null ? 1 : 2).Select(number => new WebProcess(Repository.Program, Path.Combine(folder, $"{number}"), new Dictionary<string, string> { ["DRAINBOARD_DATABASE"] = setting })).ToArray();
            try
            {
                return await RunAsync(web, cluster, setting, crew, technician);
            }
            finally
            {
                await Task.WhenAll(web.Select(process => process.KillAsync()));
            }
        }
        finally
        {
            await (cluster?.DisposeAsync() ?? ValueTask.CompletedTask);
            Directory.Delete(folder, recursive: true);
        }
    }

    private async Task<(KillCounts Counts, IReadOnlyList<string> Faults)> RunAsync(WebProcess[] web, PostgresCluster? cluster, string setting, string crew, string technician)
    {
        await Task.WhenAll(web.Select(process => process.StartAsync()));
        // A client goes to the process of its own while that runs, as a balancer with affinity would have it.
        using var load = new WriteLoad(client => (web[client % web.Length] is { IsRunning: true } mine ? mine : web[(client + 1) % web.Length]).Address, crew, technician);
        await load.PrepareAsync(8 + (kills / 2));
        using var ending = new CancellationTokenSource();
        var clients = load.RunAsync(Clients, seed, ending.Token);
        var (watch, slowest) = (Stopwatch.StartNew(), TimeSpan.Zero);
        for (var kill = 1; kill <= kills; kill++)
        {
            load.Want(kill / 2);
            await Task.Delay(_dice.Next(200, 1200));
            var down = Stopwatch.StartNew();
            if (victim == Victim.Postgres)
            {
                await cluster!.KillAsync();
                await Task.Delay(_dice.Next(300));
                await cluster.StartAsync();
                await Task.WhenAll(web.Select(process => WebProcess.UntilReadyAsync(process.Address)));
            }
            else
            {
                var process = web[_dice.Next(web.Length)];
                await process.KillAsync();
                await Task.Delay(_dice.Next(300));
                await process.StartAsync();
            }

            slowest = down.Elapsed > slowest ? down.Elapsed : slowest;
            if (kill % 20 == 0)
            {
                progress?.Report($"{kill} kills, {load.Acknowledged.Count} reports, {load.Operations} reads and corrections, {load.SentAgain} sent again, {watch.Elapsed.TotalMinutes:0.0} min");
            }
        }

        await ending.CancelAsync();
        await clients;
        // The last warnings are made by timer.
        await Task.Delay(TimeSpan.FromSeconds(1));
        return await JudgeAsync(web[0], load, setting, slowest);
    }

    private async Task<(KillCounts Counts, IReadOnlyList<string> Faults)> JudgeAsync(WebProcess web, WriteLoad load, string setting, TimeSpan slowest)
    {
        var faults = new List<string>(load.Strange.Distinct().Take(20));
        faults.AddRange(load.Check());
        await using var services = new ServiceCollection().AddLogging().AddDrainboardData(DatabaseAddress.Parse(setting)).BuildServiceProvider();
        await using var db = await services.GetRequiredService<IDbContextFactory<DrainboardDb>>().CreateDbContextAsync();
        var there = await db.Reports.AsNoTracking().Select(report => report.Id).ToArrayAsync();
        var stored = there.Select(id => id.Value).ToHashSet();
        faults.AddRange(load.Acknowledged.Where(id => !stored.Contains(id)).Select(id => $"Report {id} was acknowledged and is not there."));
        faults.AddRange(stored.Except(load.Sent).Select(id => $"Report {id} is there and was never sent."));
        if (there.Length != stored.Count || load.Acknowledged.Count != load.Acknowledged.Distinct().Count())
        {
            faults.Add("A report is there twice.");
        }

        var warned = await WarnedAsync(db, there.Length);
        faults.AddRange(warned.Where(count => count.Value != 1).Select(count => $"Report {count.Key} was warned of {count.Value} times."));
        var (code, words) = await web.CommandAsync("verify-record");
        if (code != 0)
        {
            faults.Add(words);
        }

        return (new KillCounts(kills, load.Acknowledged.Count, load.Operations, load.SentAgain, warned.Count, slowest), faults);
    }

    /// <summary>How often each report was warned of; the last ones are waited for, up to a minute.</summary>
    private static async Task<Dictionary<Guid, int>> WarnedAsync(DrainboardDb db, int reports)
    {
        for (var watch = Stopwatch.StartNew(); ; await Task.Delay(500))
        {
            var warnings = await db.Warnings.AsNoTracking().Where(warning => warning.Report != null).Select(warning => warning.Report!.Value).ToArrayAsync();
            if (warnings.Length >= reports || watch.Elapsed > TimeSpan.FromMinutes(1))
            {
                var counts = warnings.GroupBy(report => report.Value).ToDictionary(group => group.Key, group => group.Count());
                foreach (var report in await db.Reports.AsNoTracking().Select(report => report.Id).ToArrayAsync())
                {
                    counts.TryAdd(report.Value, 0);
                }

                return counts;
            }
        }
    }

    /// <summary>The small fleet, two keys, and a controller who follows every report.</summary>
    private static async Task<(string Crew, string Technician)> LoadAsync(string setting)
    {
        await using var host = await DrainboardHost.OnAsync(setting);
        await using var db = await host.Db.CreateDbContextAsync();
        var control = await host.ActorAsync("control");
        db.Follows.Add(new Follow(NewId.At(SmallFleet.Now), control.Person, null, null, [], reports: true, byMail: false, SmallFleet.Now));
        await db.SaveAsync(new Writing(Actor.Installation, SmallFleet.Now, []), CancellationToken.None);
        return (await host.SecretForAsync("crew"), await host.SecretForAsync("tech"));
    }
}

/// <summary>What a campaign counted.</summary>
/// <param name="Kills">How often something was killed.</param>
/// <param name="Reports">Reports that were acknowledged.</param>
/// <param name="Operations">Reads and corrections of shared defects.</param>
/// <param name="SentAgain">How often a client heard no answer, or that it cannot be done now, and sent again.</param>
/// <param name="Warnings">Reports that were warned of.</param>
/// <param name="SlowestReturn">From a kill until everything was ready again.</param>
public sealed record KillCounts(int Kills, int Reports, int Operations, int SentAgain, int Warnings, TimeSpan SlowestReturn);
