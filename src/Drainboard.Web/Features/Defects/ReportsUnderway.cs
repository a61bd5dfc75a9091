using System.Collections.Concurrent;

namespace Drainboard.Web.Features.Defects;

/// <summary>The reports that this process is taking in at this moment: the same one, sent again meanwhile, is told so (409) instead of waiting.</summary>
public sealed class ReportsUnderway
{
    private readonly ConcurrentDictionary<Guid, byte> _ids = new();

    /// <returns>Null where it is under way already; disposed, it is no more.</returns>
    public IDisposable? Begin(Guid id) => _ids.TryAdd(id, 0) ? new Turn(this, id) : null;

    private sealed class Turn(ReportsUnderway all, Guid id) : IDisposable
    {
        public void Dispose() => all._ids.TryRemove(id, out _);
    }
}
