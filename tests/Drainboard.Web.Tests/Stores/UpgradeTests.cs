using Drainboard.Data;
using Drainboard.Domain.Deferrals;
using Drainboard.Domain.Isolation;
using Drainboard.Testing.Databases;
using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Infrastructure;
using Microsoft.EntityFrameworkCore.Migrations;
using Microsoft.Extensions.DependencyInjection;

namespace Drainboard.Web.Tests.Stores;

/// <summary>A database of the first release is brought up to date with what it held.</summary>
public sealed class UpgradeTests
{
    [Theory]
    [ClassData(typeof(BothDatabases))]
    public async Task Migrate_FromTheFirstRelease_KeepsTheRulesThatDeferralsBeganUnder(DatabaseKind kind)
    {
        var stop = TestContext.Current.CancellationToken;
        var (setting, reason) = await TestDatabase.NewAsync(kind);
        Assert.SkipWhen(setting is null, reason);
        await using var services = new ServiceCollection().AddLogging().AddDrainboardData(DatabaseAddress.Parse(setting!)).BuildServiceProvider();
        await using (var before = services.GetRequiredService<IDbContextFactory<DrainboardDb>>().CreateDbContext())
        {
            var first = before.Database.GetMigrations().First();
            await before.GetService<IMigrator>().MigrateAsync(first, stop);
            await before.Database.ExecuteSqlRawAsync(Deferral(kind), stop);
            await before.Database.ExecuteSqlRawAsync(Installation(kind), stop);
            await before.Database.MigrateAsync(stop);
        }

        await using var db = services.GetRequiredService<IDbContextFactory<DrainboardDb>>().CreateDbContext();
        var deferral = await db.Deferrals.SingleAsync(stop);
        Assert.Equal(("eu", 1, TimeBase.Local, ExpiryTest.Departure), (deferral.Policy.Name, deferral.Policy.Version, deferral.Policy.TimeBase!.Value, deferral.Policy.ExpiryTest!.Value));
        Assert.Equal(Instant.FromUtc(2026, 2, 5, 15, 0), deferral.ReadClock([])!.DueAt);
        var installation = await db.Installations.SingleAsync(stop);
        Assert.Equal(("us-local", AdviceTerms.Usual), (installation.PolicyName, installation.Advice));
        Assert.Equal(TimeBase.Local, (await db.Policies.SingleAsync(stop)).Terms.TimeBase);
    }

    private static string Deferral(DatabaseKind kind) =>
        $$$"""
        INSERT INTO "Deferrals" ("Id", "Defect", "Tail", "BasisKind", "BasisCode", "Basis", "PolicyName", "PolicyVersion", "TimeBase", "Zone", "TimeZoneData", "Installed", "Required", "Conditions", "PlacardFitted", "PlacardWhere", "Words", "RecordedAt", "ControlReference", "ProposedAt", "EndReason", "Extensions", "Version")
        VALUES ('00000000-0000-7000-8000-000000000001', '00000000-0000-7000-8000-000000000002', '00000000-0000-7000-8000-000000000003', 'MelItem', '38-01',
          '{{"Title":"Sink","Revision":"1","Category":"C","IntervalDays":null,"Kinds":["GalleySink"],"Layouts":[],"Installed":2,"Required":1,"LeakAllowed":false,"PlacardRequired":false,"PlacardText":"","ControlRequired":true,"CertifyingRequired":true,"Conditions":[{{"Kind":"Maintenance","Words":"Looked."}}]}}',
          'eu', 1, 'Local', 'Asia/Tokyo', '2025b', 2, 1, '[{{"Kind":"Maintenance","Words":"Looked.","By":null,"At":null,"IsDone":false}}]', {{{No(kind)}}}, '', '', {{{At(kind)}}}, '', {{{At(kind)}}}, '', '[]', 0)
        """;

    private static string Installation(DatabaseKind kind) =>
        $"""
        INSERT INTO "Installations" ("Id", "OperatorName", "IsDemo", "Mode", "ApprovalReference", "PolicyName", "TimeBase", "RepeatRule", "SetUpSecretHash", "CreatedAt", "Version")
        VALUES (1, 'Earlier', {No(kind)}, 'BesideLog', '', 'us', 'Local', '3-in-15-days', '', {At(kind)}, 0)
        """;

    private static string No(DatabaseKind kind) => kind == DatabaseKind.Sqlite ? "0" : "false";

    /// <summary>26 January 2026, 10:00 UTC.</summary>
    private static string At(DatabaseKind kind) => kind == DatabaseKind.Sqlite ? "17694216000000000" : "'2026-01-26T10:00:00Z'";
}
