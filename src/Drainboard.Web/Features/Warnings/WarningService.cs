using Drainboard.Data;
using Drainboard.Web.Features.Live;
using Drainboard.Web.Hosting;

namespace Drainboard.Web.Features.Warnings;

/// <summary>Looks for warnings every half minute and when something has changed, and mails what is to be mailed. A round that fails is tried again; nothing is lost by it.</summary>
public sealed class WarningService(WarningMaker maker, WarningMailer mailer, DutyLock duties, ChangeFeed feed, ILogger<WarningService> log) : BackgroundService
{
    private static readonly TimeSpan Pause = TimeSpan.FromSeconds(30);

    protected override async Task ExecuteAsync(CancellationToken stoppingToken)
    {
        while (!stoppingToken.IsCancellationRequested)
        {
            try
            {
                await RoundAsync(stoppingToken);
                Instruments.Round("warnings", failed: false);
            }
            catch (OperationCanceledException) when (stoppingToken.IsCancellationRequested)
            {
                return;
            }
#pragma warning disable CA1031 // Whatever a mail server or a database does to one round must not end the service: it is said, and tried again.
            catch (Exception failure)
#pragma warning restore CA1031
            {
                Instruments.Round("warnings", failed: true);
                log.LogWarning(failure, "Warnings could not be made or mailed; trying again");
            }

            await WaitAsync(stoppingToken);
        }
    }

    private async Task RoundAsync(CancellationToken stop)
    {
        await using var duty = await duties.TryTakeAsync("warnings", stop);
        if (duty is not null)
        {
            await maker.RunAsync(stop);
            await mailer.RunAsync(stop);
        }
    }

    private async Task WaitAsync(CancellationToken stop)
    {
        using var pause = CancellationTokenSource.CreateLinkedTokenSource(stop);
        pause.CancelAfter(Pause);
        try
        {
            await foreach (var _ in feed.ListenAsync(pause.Token))
            {
                return;
            }
        }
        catch (OperationCanceledException)
        {
            // The pause is over, or the service stops.
        }
    }
}
