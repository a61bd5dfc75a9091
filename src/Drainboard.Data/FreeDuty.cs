namespace Drainboard.Data;

/// <summary>The embedded database has one process: every duty is its own.</summary>
public sealed class FreeDuty : DutyLock
{
    public override Task<IAsyncDisposable?> TryTakeAsync(string duty, CancellationToken stop) => Task.FromResult<IAsyncDisposable?>(new Mine());

    private sealed class Mine : IAsyncDisposable
    {
        public ValueTask DisposeAsync() => ValueTask.CompletedTask;
    }
}
