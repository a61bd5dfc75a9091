using Microsoft.Data.Sqlite;

namespace Drainboard.Testing.Databases;

/// <summary>A new, empty database of either kind, as the setting that names it.</summary>
public static class TestDatabase
{
    /// <returns>The value for DRAINBOARD_DATABASE, or null and the reason for a skip.</returns>
    public static async Task<(string? Setting, string Reason)> NewAsync(DatabaseKind kind)
    {
        switch (kind)
        {
            case DatabaseKind.Sqlite:
                return ($"Data Source={Path.Combine(Directory.CreateTempSubdirectory("drainboard-sqlite-").FullName, "test.db")}", "");
            case DatabaseKind.Postgres:
                return await PostgresServer.NewDatabaseAsync();
            default:
                throw new ArgumentOutOfRangeException(nameof(kind));
        }
    }

    /// <summary>Takes the database away: some four hundred of them in a run would fill a small disk.</summary>
    public static async Task DropAsync(string setting)
    {
        if (setting.StartsWith("Data Source=", StringComparison.Ordinal))
        {
            SqliteConnection.ClearAllPools();
            Directory.Delete(Path.GetDirectoryName(setting["Data Source=".Length..])!, recursive: true);
        }
        else
        {
            await PostgresServer.DropAsync(setting);
        }
    }
}
