using System.Diagnostics;
using Drainboard.Data;
using Drainboard.Domain;
using Drainboard.Domain.Accounts;
using Drainboard.Domain.Warnings;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.DependencyInjection;

namespace Drainboard.Testing.Faults;

/// <summary>
/// One kind of fault at random moments while clients write as fast as they can, again and again; then everything that was acknowledged must be there
/// once, nothing that was not sent, every chain of the record whole, every defect as one copy of it would have answered, and each report warned of once.
/// </summary>
public sealed class FaultCampaign(Stage stage, int strikes, int seed, IProgress<string>? progress = null)
{
    private const int Clients = 6;
    private readonly Random _dice = new(seed);

    /// <returns>What was counted, in the order of the table in docs/reliability.md, and what was wrong.</returns>
    public async Task<(FaultCounts Counts, IReadOnlyList<string> Faults)> RunAsync()
    {
        await stage.PrepareAsync();
        var (crew, technician) = await LoadAsync(stage.Database);
        await stage.StartAsync();
        using var load = new WriteLoad(stage.AddressFor, crew, technician);
        await load.PrepareAsync(8 + (strikes / 2));
        using var ending = new CancellationTokenSource();
        var clients = load.RunAsync(Clients, seed, ending.Token);
        var (watch, slowest) = (Stopwatch.StartNew(), TimeSpan.Zero);
        for (var strike = 1; strike <= strikes; strike++)
        {
            load.Want(strike / 2);
            await Task.Delay(_dice.Next(200, 1200));
            var down = Stopwatch.StartNew();
            await stage.StrikeAsync(_dice);
            slowest = down.Elapsed > slowest ? down.Elapsed : slowest;
            if (strike % 20 == 0)
            {
                progress?.Report($"{strike} times, {load.Acknowledged.Count} reports, {load.Operations} reads and corrections, {load.SentAgain} sent again, {watch.Elapsed.TotalMinutes:0.0} min");
            }
        }

        await ending.CancelAsync();
        await clients;
        await load.ReadAllAsync();
        return await JudgeAsync(load, slowest);
    }

    private async Task<(FaultCounts Counts, IReadOnlyList<string> Faults)> JudgeAsync(WriteLoad load, TimeSpan slowest)
    {
        var faults = new List<string>(load.Strange.Distinct().Take(20));
        faults.AddRange(load.Check());
        await using var services = new ServiceCollection().AddLogging().AddDrainboardData(DatabaseAddress.Parse(stage.Database)).BuildServiceProvider();
        await using var db = await services.GetRequiredService<IDbContextFactory<DrainboardDb>>().CreateDbContextAsync();
        var there = await db.Reports.AsNoTracking().Select(report => report.Id).ToArrayAsync();
        var stored = there.Select(id => id.Value).ToHashSet();
        faults.AddRange(load.Acknowledged.Where(id => !stored.Contains(id)).Select(id => $"Report {id} was acknowledged and is not there."));
        faults.AddRange(stored.Except(load.Sent).Select(id => $"Report {id} is there and was never sent."));
        if (there.Length != stored.Count || load.Acknowledged.Count != load.Acknowledged.Distinct().Count())
        {
            faults.Add("A report is there twice.");
        }

        var warned = await WarnedAsync(db, stored);
        faults.AddRange(warned.Where(count => count.Value != 1).Select(count => $"Report {count.Key} was warned of {count.Value} times."));
        var (code, words) = await stage.Web[0].CommandAsync("verify-record");
        if (code != 0)
        {
            faults.Add(words);
        }

        return (new FaultCounts(strikes, load.Acknowledged.Count, load.Operations, load.SentAgain, warned.Count, slowest), faults);
    }

    /// <summary>How often each report was warned of; the last warnings are made by timer, and waited for.</summary>
    private static async Task<Dictionary<Guid, int>> WarnedAsync(DrainboardDb db, HashSet<Guid> reports)
    {
        for (var watch = Stopwatch.StartNew(); ; await Task.Delay(500))
        {
            var warnings = await db.Warnings.AsNoTracking().Where(warning => warning.Report != null).Select(warning => warning.Report!.Value).ToArrayAsync();
            if (warnings.Length >= reports.Count || watch.Elapsed > TimeSpan.FromMinutes(2))
            {
                var made = warnings.CountBy(report => report.Value).ToDictionary();
                return reports.ToDictionary(report => report, report => made.GetValueOrDefault(report));
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
/// <param name="Strikes">How often the fault was done.</param>
/// <param name="Reports">Reports that were acknowledged.</param>
/// <param name="Operations">Reads and corrections of shared defects.</param>
/// <param name="SentAgain">How often a client heard no answer, or that it cannot be done now, and sent again.</param>
/// <param name="Warnings">Reports that were warned of.</param>
/// <param name="SlowestReturn">From the fault until everything was ready again.</param>
public sealed record FaultCounts(int Strikes, int Reports, int Operations, int SentAgain, int Warnings, TimeSpan SlowestReturn);
