using System.Runtime.InteropServices;

namespace Drainboard.Web.Hosting;

/// <summary>
/// How the program ends. Asked to (SIGTERM), it first says for a while that it is not ready (DRAINBOARD_DRAIN, in seconds) and goes on serving, so
/// that a balancer that asks leads new visitors elsewhere; then open pages are told and what is being written is finished. Ctrl+C ends it at once.
/// </summary>
internal sealed class Draining(Settings settings, IHostApplicationLifetime host, ILogger<Draining> log) : IHostLifetime, IDisposable
{
    private readonly List<PosixSignalRegistration> _signals = [];

    /// <summary>The program is about to end.</summary>
    public bool HasBegun { get; private set; }

    public Task WaitForStartAsync(CancellationToken cancellationToken)
    {
        _signals.Add(PosixSignalRegistration.Create(PosixSignal.SIGTERM, signal => End(signal, settings.Drain)));
        _signals.Add(PosixSignalRegistration.Create(PosixSignal.SIGINT, signal => End(signal, TimeSpan.Zero)));
        _signals.Add(PosixSignalRegistration.Create(PosixSignal.SIGQUIT, signal => End(signal, TimeSpan.Zero)));
        return Task.CompletedTask;
    }

    public Task StopAsync(CancellationToken cancellationToken) => Task.CompletedTask;

    public void Dispose() => _signals.ForEach(signal => signal.Dispose());

    private void End(PosixSignalContext signal, TimeSpan after)
    {
        // The program ends itself, in its own order.
        signal.Cancel = true;
        HasBegun = true;
        if (after > TimeSpan.Zero)
        {
            log.LogWarning("Asked to stop: not ready any more, and stopping in {Seconds} s", after.TotalSeconds);
        }

        _ = Task.Delay(after).ContinueWith(_ => host.StopApplication(), TaskScheduler.Default);
    }
}
