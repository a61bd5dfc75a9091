using Drainboard.Testing.Processes;

namespace Drainboard.Benchmarks;

/// <summary>The airline of docker-compose.yml without containers: a PostgreSQL of its own with durable commits, one migrate, two web processes, the balancer. To look at until Enter.</summary>
internal static class AirlineRun
{
    public static async Task<int> RunAsync()
    {
        await using var cluster = await PostgresCluster.StartAsync(PostgresCluster.Durable);
        await cluster.RunAsync("CREATE DATABASE airline");
        var (airline, reason) = await Airline.TryStartAsync(cluster["airline"]);
        if (airline is null)
        {
            Console.WriteLine(reason);
            return 1;
        }

        await using var running = airline;
        Console.WriteLine($"Balancer: {airline.Address}");
        foreach (var (number, process) in airline.Processes.Index())
        {
            Console.WriteLine($"Process {number + 1}: {process.Address}, data and log in {process.Folder}");
            Console.WriteLine((await File.ReadAllLinesAsync(process.Log)).FirstOrDefault(line => line.Contains("/set-up/first", StringComparison.Ordinal)));
        }

        Console.WriteLine("Enter ends it, and everything in it is gone.");
        Console.ReadLine();
        return 0;
    }
}
