using Drainboard.Data;
using Drainboard.Web.Hosting;

namespace Drainboard.Web.Features.Reliability;

/// <summary>Makes the day's standings, the first time soon after the start. A round that fails is tried again.</summary>
public sealed class StandingsService(StandingsMaker maker, DutyLock duties, ILogger<StandingsService> log) : BackgroundService
{
    private static readonly TimeSpan Pause = TimeSpan.FromMinutes(10);

    protected override async Task ExecuteAsync(CancellationToken stoppingToken)
    {
        using var timer = new PeriodicTimer(Pause);
        try
        {
            do
            {
                await RoundAsync(stoppingToken);
            }
            while (await timer.WaitForNextTickAsync(stoppingToken));
        }
        catch (OperationCanceledException)
        {
            // The program ends.
        }
    }

    private async Task RoundAsync(CancellationToken stop)
    {
        try
        {
            await using var duty = await duties.TryTakeAsync("standings", stop);
            if (duty is null)
            {
                return;
            }

            if (await maker.IsDueAsync(stop) && await maker.RunAsync(null, stop) is { } made)
            {
                log.LogInformation("Standings {Number}: {Flagged} of {Tested} stand out", made.Number, made.Flagged, made.Tested);
            }

            Instruments.Round("standings", failed: false);
        }
#pragma warning disable CA1031 // Whatever the database does to one round must not end the service: it is said, and tried again.
        catch (Exception failure) when (failure is not OperationCanceledException)
#pragma warning restore CA1031
        {
            Instruments.Round("standings", failed: true);
            log.LogWarning(failure, "The standings could not be worked out; trying again");
        }
    }
}
