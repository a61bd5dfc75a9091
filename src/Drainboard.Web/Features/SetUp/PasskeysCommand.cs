using Drainboard.Data;
using Drainboard.Domain.Accounts;
using Drainboard.Domain.Records;
using Drainboard.Web.Hosting;
using Microsoft.EntityFrameworkCore;
using NodaTime;

namespace Drainboard.Web.Features.SetUp;

/// <summary>
/// The way back in for who has the machine: no role signs in with a passkey until an administrator says so again. For a lost phone of the only
/// administrator, and for a new host name, under which no passkey made before opens anything.
/// </summary>
internal static class PasskeysCommand
{
    public static async Task<int> RunAsync(IServiceProvider services)
    {
        await services.GetRequiredService<FirstRun>().MigrateAsync(CancellationToken.None);
        await using var db = await services.GetRequiredService<IDbContextFactory<DrainboardDb>>().CreateDbContextAsync();
        var now = services.GetRequiredService<IClock>().GetCurrentInstant();
        if (await db.Installations.SingleOrDefaultAsync() is not { } installation)
        {
            Console.Error.WriteLine("There is no installation in this database yet. Check DRAINBOARD_DATA and DRAINBOARD_DATABASE: they name the installation to work on.");
            return 1;
        }

        installation.AskPasskeyOf([]);
        await db.SaveAsync(new Writing(Actor.Installation, now, [new Deed(new Fact(ChainKey.Operator, "installation.changed", Guid.Empty, "No role signs in with a passkey from now on: said at the machine itself.").With("passkeyRoles", ""), Actor.Installation, now)]), CancellationToken.None);
        Console.WriteLine("No role signs in with a passkey. Sign in with the password, put passkeys right on Me, then say on Set-up, Installation which roles need one.");
        return 0;
    }
}
