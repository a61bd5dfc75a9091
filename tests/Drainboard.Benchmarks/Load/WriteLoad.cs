using System.Diagnostics;
using System.Globalization;
using Drainboard.Data;
using Drainboard.Testing;
using Drainboard.Testing.Processes;
using Microsoft.Data.Sqlite;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.DependencyInjection;

namespace Drainboard.Benchmarks.Load;

/// <summary>
/// Reports and steps of cards through HTTP, each with its seal and all that belongs to it, against the bare statements that write the same rows with the
/// same durability: pgbench on PostgreSQL, the driver alone on SQLite. Both with a disk that must answer before a commit does.
/// </summary>
internal static class WriteLoad
{
    private const int Runs = 3;

    // More than are ticked in all runs.
    private const int MostSteps = 72_000;
    private static int _number;

    private static readonly TimeSpan Length = TimeSpan.FromSeconds(8);

    // Until the runtime has compiled it all for good, as in a service that has run for an hour.
    private static readonly TimeSpan WarmUp = TimeSpan.FromSeconds(40);

    public static async Task<int> RunAsync()
    {
        var folder = Directory.CreateTempSubdirectory("drainboard-writes-").FullName;
        await using var cluster = await PostgresCluster.StartAsync(PostgresCluster.Durable);
        await cluster.RunAsync("CREATE DATABASE airline");
        using var raw = new RawResults("writes");
        Console.WriteLine("| database | write | rows | through HTTP | bare statements | ratio | open arrivals at half of it: median, p99 | processor of the service for each |");
        var same = await OneAsync("PostgreSQL", cluster["airline"], folder, [], (rows, name) => PgBenchAsync(rows, name, folder, cluster), raw);
        var file = $"Data Source={Path.Combine(folder, "station.db")}";
        await OneAsync("SQLite", file, folder, same, (rows, _) => SqliteAsync(rows, file), raw);

        Directory.Delete(folder, recursive: true);
        return 0;
    }

    private static async Task<Dictionary<string, SameRows>> OneAsync(string database, string setting, string folder, Dictionary<string, SameRows> known, Func<SameRows, string, Task<double>> bare, RawResults raw)
    {
        await using var web = new WebProcess(Repository.Program, Path.Combine(folder, database), new Dictionary<string, string> { ["DRAINBOARD_DATABASE"] = setting });
        WriteClients made;
        await using (var host = await DrainboardHost.OnAsync(setting))
        {
            made = await WriteClients.PrepareAsync(host, web.Address);
        }

        // An embedded database is held by one process alone, so the service starts when that host is gone.
        using var clients = made;
        await web.StartAsync();
        await clients.PublishAsync();
        await using var services = new ServiceCollection().AddDrainboardData(DatabaseAddress.Parse(setting)).BuildServiceProvider();
        await using var db = await services.GetRequiredService<IDbContextFactory<DrainboardDb>>().CreateDbContextAsync();
        var same = new Dictionary<string, SameRows>(known);
        foreach (var (name, write, table, where) in new (string, Func<Task>, string, string)[]
        {
            ("report", clients.ReportAsync, "Reports", "true ORDER BY xmin::text::bigint DESC LIMIT 1"),
            ("step", clients.StepAsync, "JobSteps", "true ORDER BY xmin::text::bigint DESC LIMIT 1"),
        })
        {
            await clients.BeginJobsAsync(name == "step" ? MostSteps : 0);
            await WriteClients.RateAsync(write, WarmUp);
            if (known.Count == 0)
            {
                var before = await SameRows.CountsAsync(db);
                await write();
                same[name] = await SameRows.OfAsync(db, table, where, before);
            }

            var (http, plain, times, busy) = (new List<double>(), new List<double>(), new List<double>(), new List<double>());
            await same[name].PrepareAsync(db);
            for (var run = 1; run <= Runs; run++)
            {
                var before = web.Processor;
                http.Add(await WriteClients.RateAsync(write, Length));
                busy.Add((web.Processor - before).TotalMilliseconds / (http[^1] * Length.TotalSeconds));
                plain.Add(await bare(same[name], name));
                var answered = (await OpenArrivals.RunAsync(http[^1] / 2, Length, run, _ => write()))[0];
                times.AddRange(answered);
                raw.Add(database, run, name, answered);
            }

            await same[name].ClearAsync(db);
            var (mine, theirs) = (RawResults.Quantile(http, 0.5), RawResults.Quantile(plain, 0.5));
            Console.WriteLine(FormattableString.Invariant($"| {database} | {name} | {same[name].Count} | {mine:0}/s ({string.Join(", ", http.Select(rate => rate.ToString("0", CultureInfo.InvariantCulture)))}) | {theirs:0}/s ({string.Join(", ", plain.Select(rate => rate.ToString("0", CultureInfo.InvariantCulture)))}) | {mine / theirs:0.00} | {RawResults.Quantile(times, 0.5):0.0} ms, {RawResults.Quantile(times, 0.99):0.0} ms | {RawResults.Quantile(busy, 0.5):0.0} ms |"));
        }

        return same;
    }

    private static async Task<double> PgBenchAsync(SameRows rows, string name, string folder, PostgresCluster cluster)
    {
        var (script, said) = (Path.Combine(folder, $"{name}.sql"), Path.Combine(folder, $"{name}.said"));
        await File.WriteAllTextAsync(script, rows.Script());
        File.Delete(said);
        using var process = Programs.Start(Path.Combine(PostgresCluster.Binaries!, "pgbench"), ["-n", "-M", "prepared", "-c", $"{WriteClients.Clients}", "-j", "2", "-T", $"{Length.TotalSeconds}", "-f", script, "-h", "127.0.0.1", "-p", $"{cluster.Port}", "-U", "drainboard", "airline"], folder, said);
        await process.WaitForExitAsync();
        var words = await File.ReadAllTextAsync(said);
        return words.Split('\n').FirstOrDefault(line => line.StartsWith("tps = ", StringComparison.Ordinal)) is { } line && process.ExitCode == 0 ? double.Parse(line.Split(' ')[2], CultureInfo.InvariantCulture) : throw new InvalidOperationException(words);
    }

    // One after the other: the database takes one writer at a time in any case.
    private static async Task<double> SqliteAsync(SameRows rows, string file)
    {
        await using var connection = new SqliteConnection(file);
        await connection.OpenAsync();
        var (watch, done) = (Stopwatch.StartNew(), 0);
        for (; watch.Elapsed < Length; done++)
        {
            await using var transaction = connection.BeginTransaction();
            var number = --_number;
            foreach (var sql in rows.ForSqlite())
            {
                await using var command = connection.CreateCommand();
                (command.Transaction, command.CommandText) = (transaction, sql);
                if (sql.Contains("$k", StringComparison.Ordinal))
                {
                    command.Parameters.AddWithValue("$k", (done % 40) + 1);
                }

                if (sql.Contains("$n", StringComparison.Ordinal))
                {
                    command.Parameters.AddWithValue("$n", number);
                }

                await command.ExecuteNonQueryAsync();
            }

            await transaction.CommitAsync();
        }

        return done / watch.Elapsed.TotalSeconds;
    }
}
