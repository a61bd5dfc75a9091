using Drainboard.Data;
using Drainboard.Testing.Databases;
using Microsoft.EntityFrameworkCore;

namespace Drainboard.Web.Tests.Stores;

/// <summary>What a database is made of, as lines that can be compared: tables with columns, types and nulls, indexes, and triggers.</summary>
internal static class SchemaOf
{
    // SQLite keeps the words with which a table was made; what they come to is asked, since a column that was added stands at another place.
    private const string Sqlite =
        """
        SELECT 'column ' || m.name || '.' || p.name || ' ' || p.type || ' ' || p."notnull" || ' ' || p.pk AS "Value" FROM sqlite_master m JOIN pragma_table_info(m.name) p WHERE m.type = 'table' AND m.name NOT LIKE 'sqlite_%' AND m.name NOT LIKE '__EF%'
        UNION ALL SELECT m.type || ' ' || m.name || ' on ' || m.tbl_name || ' ' || COALESCE(m.sql, '') FROM sqlite_master m WHERE m.type IN ('index', 'trigger') AND m.name NOT LIKE 'sqlite_%'
        """;

    private const string Postgres =
        """
        SELECT 'column ' || table_name || '.' || column_name || ' ' || data_type || ' ' || is_nullable || ' ' || COALESCE(character_maximum_length, 0) AS "Value" FROM information_schema.columns WHERE table_schema = 'public' AND table_name NOT LIKE '\_\_EF%'
        UNION ALL SELECT 'index ' || indexdef FROM pg_indexes WHERE schemaname = 'public' AND tablename NOT LIKE '\_\_EF%'
        UNION ALL SELECT 'trigger ' || tgname || ' ' || pg_get_triggerdef(oid) FROM pg_trigger WHERE NOT tgisinternal
        UNION ALL SELECT 'constraint ' || conrelid::regclass || ' ' || conname || ' ' || pg_get_constraintdef(oid) FROM pg_constraint WHERE connamespace = 'public'::regnamespace AND conrelid::regclass::text NOT LIKE '%\_\_EF%'
        """;

    public static async Task<IReadOnlyList<string>> ReadAsync(DrainboardDb db, DatabaseKind kind, CancellationToken stop) =>
        [.. (await db.Database.SqlQueryRaw<string>(kind == DatabaseKind.Sqlite ? Sqlite : Postgres).ToArrayAsync(stop)).Order(StringComparer.Ordinal)];
}
