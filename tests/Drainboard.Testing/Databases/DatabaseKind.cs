namespace Drainboard.Testing.Databases;

/// <summary>The two databases on which every store test runs.</summary>
public enum DatabaseKind
{
    Sqlite,
    Postgres,
}
