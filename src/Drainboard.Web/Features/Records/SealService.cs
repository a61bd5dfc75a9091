using Drainboard.Data;
using Drainboard.Domain.Records;
using Drainboard.Web.Hosting;

namespace Drainboard.Web.Features.Records;

/// <summary>Asks for the day's seal every ten minutes, the first time soon after the start. A round that fails is tried again.</summary>
public sealed class SealService(SealMaker maker, SealPublisher publisher, DutyLock duties, ILogger<SealService> log) : BackgroundService
{
    private static readonly TimeSpan Pause = TimeSpan.FromMinutes(10);

    protected override async Task ExecuteAsync(CancellationToken stoppingToken)
    {
        using var timer = new PeriodicTimer(Pause);
        do
        {
            try
            {
                if (await MakeAsync(stoppingToken) is { } made)
                {
                    log.LogInformation("Seal {Number} over {Leaves} heads: {Root}", made.Number, made.Leaves, made.Root);
                }

                await publisher.RunAsync(stoppingToken);
            }
            catch (OperationCanceledException) when (stoppingToken.IsCancellationRequested)
            {
                return;
            }
#pragma warning disable CA1031 // Whatever the database or the disk does to one round must not end the service: it is said, and tried again.
            catch (Exception failure)
#pragma warning restore CA1031
            {
                Instruments.Round("seal", failed: true);
                log.LogWarning(failure, "The record could not be sealed; trying again");
            }
        }
        while (await WaitAsync(timer, stoppingToken));
    }

    private async Task<FleetSeal?> MakeAsync(CancellationToken stop)
    {
        await using var duty = await duties.TryTakeAsync("seal", stop);
        if (duty is null)
        {
            return null;
        }

        var made = await maker.RunAsync(stop);
        Instruments.Round("seal", failed: false);
        return made;
    }

    private static async Task<bool> WaitAsync(PeriodicTimer timer, CancellationToken stop)
    {
        try
        {
            return await timer.WaitForNextTickAsync(stop);
        }
        catch (OperationCanceledException)
        {
            return false;
        }
    }
}
