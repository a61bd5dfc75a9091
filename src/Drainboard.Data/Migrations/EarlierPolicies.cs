using Microsoft.EntityFrameworkCore.Migrations;

namespace Drainboard.Data.Migrations;

/// <summary>
/// Deferrals once named their policy and its version; since then each keeps the value itself. These are the values as they stood under
/// version 1, frozen here.
/// </summary>
internal static class EarlierPolicies
{
    private const string UsSources =
        """[{"Field":"intervalDays","Source":"FAA MMEL Policy Letter PL-25, as quoted second-hand","Verification":"second-hand"},{"Field":"timeBase","Source":"FAA PL-25 definition of flight day: UTC or local as the operator establishes","Verification":"read"},{"Field":"calendarStart","Source":"FAA MMEL Policy Letter PL-25, as quoted second-hand","Verification":"second-hand"},{"Field":"countedUnitStart","Source":"FAA MMEL Policy Letter PL-25, as quoted second-hand","Verification":"second-hand"},{"Field":"expiryTest","Source":"no regulator text found; version 1 tested departure","Verification":"our choice"},{"Field":"extendable","Source":"8900.1 Vol 4 Ch 4, OpSpec D095","Verification":"from memory"},{"Field":"maxExtensions","Source":"8900.1 Vol 4 Ch 4, OpSpec D095","Verification":"from memory"},{"Field":"notifyWithin","Source":"8900.1 Vol 4 Ch 4, OpSpec D095","Verification":"from memory"}]""";

    private const string EuSources =
        """[{"Field":"intervalDays","Source":"CS-MMEL intervals B 3, C 10, D 120","Verification":"from memory"},{"Field":"timeBase","Source":"CS MMEL.105(b): UTC or local, selected by the operator","Verification":"read"},{"Field":"calendarStart","Source":"CS MMEL.105(b): midnight to midnight","Verification":"read"},{"Field":"expiryTest","Source":"no regulator text found; version 1 tested departure","Verification":"our choice"},{"Field":"extendable","Source":"ORO.MLR.105 (UK consolidation of 23 Nov 2021) (f)","Verification":"read"},{"Field":"maxExtensions","Source":"ORO.MLR.105 (UK consolidation of 23 Nov 2021) (f): one time","Verification":"read"}]""";

    /// <summary>Puts the value where the name stood. Comes before the column is renamed and the time base dropped.</summary>
    public static void KeepValues(MigrationBuilder migration)
    {
        foreach (var timeBase in new[] { "Utc", "Local" })
        {
            migration.Sql($"""UPDATE "Deferrals" SET "PolicyName" = '{Us("us", timeBase)}' WHERE "PolicyName" = 'us' AND "TimeBase" = '{timeBase}'""");
            migration.Sql($"""UPDATE "Deferrals" SET "PolicyName" = '{Eu("eu", timeBase)}' WHERE "PolicyName" = 'eu' AND "TimeBase" = '{timeBase}'""");
        }
    }

    /// <summary>An installation that counted local days gets a policy of its own that does. Comes after the policies' table is made and before the time base is dropped.</summary>
    public static void KeepLocalDays(MigrationBuilder migration)
    {
        foreach (var (name, id, terms) in new[] { ("us", "0000000000a1", Us("us-local", "Local")), ("eu", "0000000000a2", Eu("eu-local", "Local")) })
        {
            migration.Sql($"""INSERT INTO "Policies" ("Id", "Name", "Number", "Terms", "MadeAt") SELECT '00000000-0000-7000-8000-{id}', '{name}-local', 1, '{terms}', "CreatedAt" FROM "Installations" WHERE "PolicyName" = '{name}' AND "TimeBase" = 'Local'""");
            migration.Sql($"""UPDATE "Installations" SET "PolicyName" = '{name}-local' WHERE "PolicyName" = '{name}' AND "TimeBase" = 'Local'""");
        }
    }

    /// <summary>What ran was counted in calendar days.</summary>
    public static void NameTheBinding(MigrationBuilder migration) =>
        migration.Sql("""UPDATE "Deferrals" SET "Binding" = 'CalendarDays' WHERE "DueAt" IS NOT NULL""");

    private static string Us(string name, string timeBase) =>
        $$"""{"Name":"{{name}}","Version":1,"Title":"United States, air carriers","Days":{"B":3,"C":10,"D":120},"TimeBase":"{{timeBase}}","OperatorZone":"","ExcludesDayOfDiscovery":true,"CalendarStart":"Midnight","StartsFrom":"Logged","CountedUnitStart":"Deferral","ExpiryTest":"Departure","Extendable":{"A":false,"B":true,"C":true,"D":false},"MaxExtensions":1,"MaxExtensionDays":null,"NotifyWithin":{"Hours":24,"WorkingDays":null},"ApprovalBeforeA":null,"Sources":{{UsSources}}}""";

    private static string Eu(string name, string timeBase) =>
        $$"""{"Name":"{{name}}","Version":1,"Title":"European Union","Days":{"B":3,"C":10,"D":120},"TimeBase":"{{timeBase}}","OperatorZone":"","ExcludesDayOfDiscovery":true,"CalendarStart":"Midnight","StartsFrom":"Logged","CountedUnitStart":null,"ExpiryTest":"Departure","Extendable":{"A":false,"B":true,"C":true,"D":true},"MaxExtensions":1,"MaxExtensionDays":null,"NotifyWithin":null,"ApprovalBeforeA":null,"Sources":{{EuSources}}}""";
}
