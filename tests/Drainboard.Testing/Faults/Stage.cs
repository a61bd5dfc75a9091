using Drainboard.Testing.Processes;

namespace Drainboard.Testing.Faults;

/// <summary>
/// Where a campaign plays: a database, the web processes on it, and one kind of fault that can be done to them and made good again. PostgreSQL is a
/// cluster of its own with durable commits; every folder goes at the end.
/// </summary>
public abstract class Stage : IAsyncDisposable
{
    protected string Folder { get; } = Directory.CreateTempSubdirectory("drainboard-faults-").FullName;

    protected PostgresCluster? Cluster { get; private set; }

    /// <summary>The setting that names the database, for looking at it.</summary>
    public string Database { get; private set; } = "";

    public IReadOnlyList<WebProcess> Web { get; private set; } = [];

    /// <summary>What is done, for the table.</summary>
    public abstract string Name { get; }

    protected virtual bool OnPostgres => false;

    protected virtual int Processes => OnPostgres ? 2 : 1;

    /// <summary>Makes the database, empty.</summary>
    public virtual async Task PrepareAsync()
    {
        if (OnPostgres)
        {
            Cluster = await PostgresCluster.StartAsync(PostgresCluster.Durable);
            await Cluster.RunAsync("CREATE DATABASE airline");
        }

        Database = Cluster?["airline"] ?? $"Data Source={Path.Combine(DataFolder, "station.db")}";
    }

    /// <summary>Starts the web processes.</summary>
    public virtual async Task StartAsync()
    {
        Web = [.. Enumerable.Range(0, Processes).Select(number => new WebProcess(Repository.Program, Path.Combine(Folder, $"{number}"), Settings()))];
        await Task.WhenAll(Web.Select(process => process.StartAsync()));
    }

    /// <summary>Where a client sends its next request: to a process of its own while that runs, as a balancer with affinity would have it.</summary>
    public virtual Uri AddressFor(int client) => (Web[client % Web.Count] is { IsRunning: true } mine ? mine : Web[(client + 1) % Web.Count]).Address;

    /// <summary>Does the fault once, and makes it good again.</summary>
    public abstract Task StrikeAsync(Random dice);

    public virtual async ValueTask DisposeAsync()
    {
        await Task.WhenAll(Web.Select(process => process.KillAsync()));
        await (Cluster?.DisposeAsync() ?? ValueTask.CompletedTask);
        Directory.Delete(Folder, recursive: true);
        GC.SuppressFinalize(this);
    }

    /// <summary>Another cluster has the database from now on; the old one is thrown away.</summary>
    protected async Task ReplaceAsync(PostgresCluster cluster)
    {
        await Cluster!.DisposeAsync();
        (Cluster, Database) = (cluster, cluster["airline"]);
    }

    protected virtual string DataFolder => Folder;

    /// <summary>What the web processes are started with.</summary>
    protected virtual Dictionary<string, string> Settings() => new() { ["DRAINBOARD_DATABASE"] = Database };
}
