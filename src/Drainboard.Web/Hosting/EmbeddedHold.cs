using Microsoft.Data.Sqlite;

namespace Drainboard.Web.Hosting;

/// <summary>
/// The embedded database is for one process: it holds a file beside it while it runs, which the system lets go of however the process ends. Who
/// holds it knows that any other mark of use in the database was left by one that died.
/// </summary>
internal sealed class EmbeddedHold(Settings settings) : IDisposable
{
    private FileStream? _held;

    /// <summary>Takes it, once for the life of the process. PostgreSQL needs none.</summary>
    /// <exception cref="StartRefusedException">Another process has it, or the folder cannot be written to.</exception>
    public void Take()
    {
        if (settings.Database.IsPostgres || _held is not null)
        {
            return;
        }

        var file = new SqliteConnectionStringBuilder(settings.Database.ConnectionString).DataSource;
        try
        {
            _held = new FileStream($"{file}.in-use", FileMode.OpenOrCreate, FileAccess.ReadWrite, FileShare.None);
        }
        catch (Exception failure) when (failure is IOException or UnauthorizedAccessException)
        {
            throw new StartRefusedException($"The embedded database {file} is in use by another Drainboard process, or its folder cannot be written to ({failure.Message}) Stop the other one, or give this one a folder of its own with DRAINBOARD_DATA. For several processes use PostgreSQL.", failure);
        }
    }

    public void Dispose() => _held?.Dispose();
}
