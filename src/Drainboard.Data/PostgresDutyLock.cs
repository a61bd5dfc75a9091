using Microsoft.Extensions.DependencyInjection;
using Npgsql;

namespace Drainboard.Data;

/// <summary>An advisory lock of a connection: it ends with the connection, whatever becomes of the process.</summary>
public sealed class PostgresDutyLock([FromKeyedServices(DataSetup.Sessions)] NpgsqlDataSource source) : DutyLock
{
    // One program may share a server's database with another: the first number of two is ours.
    private const int Ours = 0x44524149;

    public override async Task<IAsyncDisposable?> TryTakeAsync(string duty, CancellationToken stop)
    {
        var connection = await source.OpenConnectionAsync(stop);
        try
        {
            if (await AskAsync(connection, "SELECT pg_try_advisory_lock($1, hashtext($2))", duty, stop))
            {
                return new Held(connection, duty);
            }
        }
        catch
        {
            await connection.DisposeAsync();
            throw;
        }

        await connection.DisposeAsync();
        return null;
    }

    private static async Task<bool> AskAsync(NpgsqlConnection connection, string text, string duty, CancellationToken stop)
    {
        await using var command = new NpgsqlCommand(text, connection) { Parameters = { new() { Value = Ours }, new() { Value = duty } } };
        return (bool)(await command.ExecuteScalarAsync(stop))!;
    }

    private sealed class Held(NpgsqlConnection connection, string duty) : IAsyncDisposable
    {
        public async ValueTask DisposeAsync()
        {
            await using (connection)
            {
                try
                {
                    // The connection goes back to the pool, and would hold it there.
                    await AskAsync(connection, "SELECT pg_advisory_unlock($1, hashtext($2))", duty, CancellationToken.None);
                }
                catch (NpgsqlException)
                {
                    // The connection is gone, and the lock with it.
                }
            }
        }
    }
}
