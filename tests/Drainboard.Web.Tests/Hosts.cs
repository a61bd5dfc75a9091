using System.Collections.Concurrent;
using Drainboard.Testing;
using Drainboard.Testing.Databases;

namespace Drainboard.Web.Tests;

/// <summary>Both databases, as theory data.</summary>
public sealed class BothDatabases : TheoryData<DatabaseKind>
{
    public BothDatabases() => AddRange(Enum.GetValues<DatabaseKind>());
}

/// <summary>One running program per database for a test class: its tests report defects of their own and do not meet.</summary>
public sealed class Hosts : IAsyncDisposable
{
    private readonly ConcurrentDictionary<DatabaseKind, Lazy<Task<(DrainboardHost? Host, string Reason)>>> _hosts = [];

    /// <summary>The host, or a skip with the reason where this machine has no such database.</summary>
    public async Task<DrainboardHost> OnAsync(DatabaseKind kind)
    {
        var (host, reason) = await _hosts.GetOrAdd(kind, _ => new(() => DrainboardHost.TryStartAsync(kind))).Value;
        Assert.SkipWhen(host is null, reason);
        return host!;
    }

    public async ValueTask DisposeAsync()
    {
        foreach (var started in _hosts.Values)
        {
            if ((await started.Value).Host is { } host)
            {
                await host.DisposeAsync();
            }
        }
    }
}
