using Drainboard.Domain.TurnFit;
using Drainboard.Testing;
using Drainboard.Testing.Databases;
using Drainboard.Web.Features.Fleet;
using Drainboard.Web.Features.TurnFit;
using Microsoft.Extensions.DependencyInjection;
using NodaTime;

namespace Drainboard.Benchmarks;

/// <summary>
/// Whether what turn fit promises comes true: times learnt from the older part of the demo's jobs, asked about the newer part. Each of those
/// is given so many minutes that the promise is anything from nothing to certain; then it is counted how many took no longer.
/// </summary>
internal static class FitCalibration
{
    private const double Learnt = 0.7;

    public static async Task<int> RunAsync()
    {
        var (host, reason) = await DrainboardHost.TryStartAsync(DatabaseKind.Sqlite, Instant.FromUtc(2026, 11, 25, 14, 5), demo: true);
        if (host is null)
        {
            Console.WriteLine(reason);
            return 1;
        }

        await using var running = host;
        await using var db = await host.Db.CreateDbContextAsync();
        var jobs = (await FleetJobs.JobsAsync(db, host.Services.GetRequiredService<LayoutCatalog>(), Instant.MaxValue, CancellationToken.None)).OrderBy(job => job.At).ToArray();
        var older = jobs.Take((int)(Learnt * jobs.Length)).ToArray();
        var newer = jobs.Skip(older.Length).Where(job => job.Job.Minutes is not null).ToArray();
        Console.WriteLine($"{older.Length} jobs learnt from, {newer.Length} later ones asked about");
        foreach (var (name, times) in new[] { ("own jobs", new JobTimes(older.Select(job => job.Job), FitTerms.Usual)), ("the trade's word alone", new JobTimes([], FitTerms.Usual)) })
        {
            var random = new Random(20261126);
            var counts = new (int Asked, int Fitted, double Promised)[10];
            foreach (var job in newer.Select(job => job.Job))
            {
                var work = WorkTime.Of([new TaskTime.OneOf([.. times.For(job.Layout, job.Fixture, job.Family).Select(one => (one.Chance, one.Time))])]);
                for (var draw = 0; draw < 5; draw++)
                {
                    var available = work.Quantile(0.01 + (0.98 * random.NextDouble()));
                    var chance = work.ChanceWithin(available);
                    ref var bin = ref counts[Math.Min(9, (int)(10 * chance))];
                    bin = (bin.Asked + 1, bin.Fitted + (job.Minutes <= available ? 1 : 0), bin.Promised + chance);
                }
            }

            Console.WriteLine($"{name}: promised, came true");
            foreach (var (asked, fitted, promised) in counts)
            {
                Console.WriteLine($"  {100 * promised / asked:0} %  {100.0 * fitted / asked:0} %  of {asked}");
            }
        }

        return 0;
    }
}
