using Microsoft.Data.Sqlite;
using Npgsql;

namespace Drainboard.Data;

/// <summary>
/// Tells a database that cannot do it now (stopped, starting, cut off, out of room or of connections) from a fault of ours. What was asked may be
/// asked again under the same id: either it was not done, or it was and is answered.
/// </summary>
public static class DatabaseAway
{
    // A server that was the primary until now.
    private const string ReadOnly = "25006";

    public static bool IsSaidBy(Exception? failure)
    {
        for (; failure is not null; failure = failure.InnerException)
        {
            if (failure is PostgresException told ? told.IsTransient || told.SqlState[..2] is "08" or "53" or "57" or "58" || told.SqlState == ReadOnly : failure is NpgsqlException || (failure is SqliteException said && IsAway(said)))
            {
                return true;
            }
        }

        return false;
    }

    // Busy, locked, read-only, a fault of the disk, full, cannot be opened.
    private static bool IsAway(SqliteException said) => said.SqliteErrorCode is 5 or 6 or 8 or 10 or 13 or 14;
}
