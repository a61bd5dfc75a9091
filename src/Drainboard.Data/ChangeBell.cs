namespace Drainboard.Data;

/// <summary>
/// Rings in every process that shares the database when one of them has written. It says that there is something to read, never what: the change
/// table says that, and is read by timer too, so a ring that is missed costs a second and loses nothing.
/// </summary>
public abstract class ChangeBell
{
    /// <summary>Tells the others, once for however much was written.</summary>
    public abstract Task RingAsync(CancellationToken stop);

    /// <summary>Listens until it is stopped or the connection fails. Whoever calls again has missed nothing: it is heard at once when it listens.</summary>
    /// <exception cref="System.Data.Common.DbException">The connection failed.</exception>
    public abstract Task HearAsync(Action heard, CancellationToken stop);
}
