using Drainboard.Data;
using Microsoft.EntityFrameworkCore;
using Npgsql;

namespace Drainboard.Web.Hosting;

/// <summary>
/// The rights of the PostgreSQL role that runs the service: it reads and writes everything, and only adds to the record and its seals. The
/// tables belong to the role that migrates, which the service does not run as; so the service cannot lift the triggers either.
/// </summary>
internal sealed class ServiceRole(IDbContextFactory<DrainboardDb> factory, Settings settings)
{
    /// <exception cref="StartRefusedException">It could not be done; the message says what to do.</exception>
    public async Task GrantAsync(string role, CancellationToken stop)
    {
        if (!settings.Database.IsPostgres)
        {
            throw new StartRefusedException("--for is for PostgreSQL: the embedded database has no roles.");
        }

        var name = new NpgsqlCommandBuilder().QuoteIdentifier(role);
        await using var db = await factory.CreateDbContextAsync(stop);
        try
        {
#pragma warning disable EF1002 // Identifiers cannot be parameters; the role's name is quoted.
            await db.Database.ExecuteSqlRawAsync(
                $"""
                GRANT USAGE ON SCHEMA public TO {name};
                GRANT SELECT, INSERT, UPDATE, DELETE ON ALL TABLES IN SCHEMA public TO {name};
                GRANT USAGE, SELECT, UPDATE ON ALL SEQUENCES IN SCHEMA public TO {name};
                REVOKE UPDATE, DELETE, TRUNCATE ON "Record", "Seals", "SealedHeads" FROM {name};
                REVOKE INSERT, UPDATE, DELETE ON "__EFMigrationsHistory" FROM {name};
                """, stop);
#pragma warning restore EF1002
        }
        catch (PostgresException failure)
        {
            throw new StartRefusedException($"The rights could not be given to {role}: {failure.MessageText} Create the role first, and run this as the owner of the tables.", failure);
        }
    }
}
