using Drainboard.Data;
using Drainboard.Web.Features.Live;
using Drainboard.Web.Hosting;

namespace Drainboard.Web.Features.Warnings;

/// <summary>Looks for warnings every half minute and when something has changed, and mails what is to be mailed. A round that fails is tried again; nothing is lost by it.</summary>
public sealed class WarningService(WarningMaker maker, WarningMailer mailer, DutyLock duties, ChangeFeed feed, ILogger<WarningService> log) : BackgroundService
{
    private static readonly TimeSpan Pause = TimeSpan.FromSeconds(30);

    // However much is written, it looks no more often than this.
    private static readonly TimeSpan Rest = TimeSpan.FromSeconds(1);

    protected override async Task ExecuteAsync(CancellationToken stoppingToken)
    {
        // Heard from now on, so that what is written during a round is looked at after it.
        await using var news = feed.ListenAsync(stoppingToken).GetAsyncEnumerator(CancellationToken.None);
        var heard = news.MoveNextAsync().AsTask();
        while (!stoppingToken.IsCancellationRequested)
        {
            await RoundAsync(stoppingToken);
            await Task.WhenAny(Task.Delay(Rest, stoppingToken));
            await Task.WhenAny(heard, Task.Delay(Pause, stoppingToken));
            heard = heard.IsCompletedSuccessfully ? news.MoveNextAsync().AsTask() : heard;
        }

        await Task.WhenAny(heard);
    }

    private async Task RoundAsync(CancellationToken stop)
    {
        try
        {
            await using var duty = await duties.TryTakeAsync("warnings", stop);
            if (duty is not null)
            {
                await maker.RunAsync(stop);
                await mailer.RunAsync(stop);
                Instruments.Round("warnings", failed: false);
            }
        }
        catch (OperationCanceledException) when (stop.IsCancellationRequested)
        {
            // The service stops.
        }
#pragma warning disable CA1031 // Whatever a mail server or a database does to one round must not end the service: it is said, and tried again.
        catch (Exception failure)
#pragma warning restore CA1031
        {
            Instruments.Round("warnings", failed: true);
            log.LogWarning(failure, "Warnings could not be made or mailed; trying again");
        }
    }
}
