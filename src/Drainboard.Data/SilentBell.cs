namespace Drainboard.Data;

/// <summary>The embedded database has one process: there is nobody else to tell.</summary>
public sealed class SilentBell : ChangeBell
{
    public override Task RingAsync(CancellationToken stop) => Task.CompletedTask;

    public override Task HearAsync(Action heard, CancellationToken stop) => Task.Delay(Timeout.Infinite, stop);
}
