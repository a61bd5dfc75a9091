using Drainboard.Web.Features.Live;

namespace Drainboard.Web.Features.Warnings;

/// <summary>Looks for warnings every half minute and when something has changed, and mails what is to be mailed. A round that fails is tried again; nothing is lost by it.</summary>
public sealed class WarningService(WarningMaker maker, WarningMailer mailer, ChangeFeed feed, ILogger<WarningService> log) : BackgroundService
{
    private static readonly TimeSpan Pause = TimeSpan.FromSeconds(30);

    protected override async Task ExecuteAsync(CancellationToken stoppingToken)
    {
        while (!stoppingToken.IsCancellationRequested)
        {
            try
            {
                await maker.RunAsync(stoppingToken);
                await mailer.RunAsync(stoppingToken);
            }
            catch (Exception failure) when (failure is System.Data.Common.DbException or InvalidOperationException or TimeoutException or IOException or System.Net.Sockets.SocketException or MailKit.ProtocolException or MailKit.CommandException or MailKit.Security.AuthenticationException)
            {
                log.LogWarning(failure, "Warnings could not be made or mailed; trying again");
            }
            catch (OperationCanceledException)
            {
                return;
            }

            await WaitAsync(stoppingToken);
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
