using Microsoft.Extensions.DependencyInjection;
using Npgsql;

namespace Drainboard.Data;

/// <summary>
/// NOTIFY outside of any writing transaction: inside one it would make commits wait for one another. One connection of each process listens.
/// </summary>
public sealed class PostgresBell([FromKeyedServices(DataSetup.Sessions)] NpgsqlDataSource source) : ChangeBell
{
    private const string Channel = "drainboard_changes";

    /// <summary>So long nothing is heard before the connection is asked whether it still lives: a cut line says nothing by itself.</summary>
    private static readonly TimeSpan Quiet = TimeSpan.FromSeconds(30);

    public override async Task RingAsync(CancellationToken stop)
    {
        await using var command = source.CreateCommand($"NOTIFY {Channel}");
        await command.ExecuteNonQueryAsync(stop);
    }

    public override async Task HearAsync(Action heard, CancellationToken stop)
    {
        await using var connection = await source.OpenConnectionAsync(stop);
        connection.Notification += (_, _) => heard();
        await AskAsync(connection, $"LISTEN {Channel}", stop);
        heard();
        while (true)
        {
            if (!await connection.WaitAsync(Quiet, stop))
            {
                await AskAsync(connection, "SELECT 1", stop);
            }
        }
    }

    private static async Task AskAsync(NpgsqlConnection connection, string text, CancellationToken stop)
    {
        await using var command = new NpgsqlCommand(text, connection);
        await command.ExecuteNonQueryAsync(stop);
    }
}
