namespace Drainboard.Data;

/// <summary>
/// A round of background work is for one process at a time of those that share the database; who does not get it has nothing to do. It spares
/// work, and nothing hangs on it: what a round makes is unique in the database, and a process that dies lets go of it.
/// </summary>
public abstract class DutyLock
{
    /// <returns>The duty, until it is disposed of; null while another process has it.</returns>
    public abstract Task<IAsyncDisposable?> TryTakeAsync(string duty, CancellationToken stop);
}
