using Drainboard.Data.Accounts;
using Microsoft.AspNetCore.Identity;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.DependencyInjection;
using Npgsql;

namespace Drainboard.Data;

/// <summary>The only place where a context is set up: the program, its tests and the design-time tools all come through here.</summary>
public static class DataSetup
{
    internal const string Sessions = "sessions";

    // As many as a busy process repeats.
    private const int PreparedStatements = 200;

    public static IServiceCollection AddDrainboardData(this IServiceCollection services, DatabaseAddress address)
    {
        // Identity reads its model's version from the options in the context's application services.
        services.Configure<IdentityOptions>(options => options.Stores.SchemaVersion = IdentitySchemaVersions.Version3);
        if (address.IsPostgres)
        {
            // A context leaves nothing behind on its connection, so nothing is taken back before the next one has it; what listens or holds a lock has connections of its own.
            services.AddSingleton(_ => Source(address, text => text.NoResetOnClose = true));
            services.AddKeyedSingleton(Sessions, (_, _) => Source(address, text => text.NoResetOnClose = false));
            services.AddPooledDbContextFactory<PostgresDrainboardDb>((provider, options) => options.UseNpgsql(provider.GetRequiredService<NpgsqlDataSource>(), npgsql => npgsql.UseNodaTime()));
            services.AddSingleton<IDbContextFactory<DrainboardDb>, Adapter<PostgresDrainboardDb>>();
            services.AddSingleton<ChangeBell, PostgresBell>();
            services.AddSingleton<DutyLock, PostgresDutyLock>();
        }
        else
        {
            services.AddPooledDbContextFactory<SqliteDrainboardDb>(options => options.UseSqlite(address.ConnectionString));
            services.AddSingleton<IDbContextFactory<DrainboardDb>, Adapter<SqliteDrainboardDb>>();
            services.AddSingleton<ChangeBell, SilentBell>();
            services.AddSingleton<DutyLock, FreeDuty>();
        }

        return services.AddScoped(provider => provider.GetRequiredService<IDbContextFactory<DrainboardDb>>().CreateDbContext());
    }

    private static NpgsqlDataSource Source(DatabaseAddress address, Action<NpgsqlConnectionStringBuilder> set)
    {
        // What the operator says of preparing comes after ours, and counts.
        var text = new NpgsqlConnectionStringBuilder($"Max Auto Prepare={PreparedStatements};{address.ConnectionString}") { Timezone = "UTC" };
        set(text);
        return new NpgsqlDataSourceBuilder(text.ConnectionString).UseNodaTime().Build();
    }

    // IDbContextFactory is not covariant.
    private sealed class Adapter<TDb>(IDbContextFactory<TDb> inner) : IDbContextFactory<DrainboardDb>
        where TDb : DrainboardDb
    {
        public DrainboardDb CreateDbContext() => inner.CreateDbContext();
    }
}
