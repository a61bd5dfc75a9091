using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Design;
using Microsoft.Extensions.DependencyInjection;

namespace Drainboard.Data;

public sealed class SqliteDesign : IDesignTimeDbContextFactory<SqliteDrainboardDb>
{
    public SqliteDrainboardDb CreateDbContext(string[] args) =>
        new ServiceCollection().AddDrainboardData(DatabaseAddress.Embedded("design.db")).BuildServiceProvider()
            .GetRequiredService<IDbContextFactory<SqliteDrainboardDb>>().CreateDbContext();
}

public sealed class PostgresDesign : IDesignTimeDbContextFactory<PostgresDrainboardDb>
{
    public PostgresDrainboardDb CreateDbContext(string[] args) =>
        new ServiceCollection().AddDrainboardData(DatabaseAddress.Parse("Host=localhost;Database=design")).BuildServiceProvider()
            .GetRequiredService<IDbContextFactory<PostgresDrainboardDb>>().CreateDbContext();
}
