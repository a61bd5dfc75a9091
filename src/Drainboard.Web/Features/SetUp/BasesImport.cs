using Drainboard.Domain.Deferrals;
using Drainboard.Domain.Fleet;

namespace Drainboard.Web.Features.SetUp;

/// <summary>The operator's items for deferral, with their conditions. Another revision replaces the item; running deferrals keep the one they began under.</summary>
internal static class BasesImport
{
    public static void Read(ImportSource source, ImportWork work)
    {
        var conditions = source.Rows("conditions").Select(row => (Key: KeyOf(row), Condition: new BasisCondition(row.Choice<ConditionKind>("condition") ?? ConditionKind.Maintenance, row.Needed("words", 400), row.Number("everyDays", 1, 120), row.YesNo("eachDeparture", false)), Row: row)).ToLookup(one => one.Key);
        var listed = new HashSet<(BasisKind, string)>();
        foreach (var row in source.Rows("bases"))
        {
            var key = KeyOf(row);
            if (!listed.Add(key))
            {
                row.Fault("code", $"{key.Code} is listed twice.");
                continue;
            }

            var terms = ReadTerms(row, work, [.. conditions[key].Select(one => one.Condition)]);
            if (work.Bases.TryGetValue(key, out var basis))
            {
                work.Seen("bases", basis.Set(terms));
            }
            else
            {
                work.Add("bases", work.Bases[key] = new DeferralBasis(new BasisId(work.NewId()), key.Kind, key.Code, terms));
            }
        }

        foreach (var (key, _, row) in conditions.SelectMany(group => group).Where(one => !listed.Contains(one.Key)))
        {
            row.Fault("code", $"{key.Code} is not in bases. List the item together with its conditions.");
        }
    }

    private static IReadOnlyList<ClockLimit> ReadLimits(ImportRow row) =>
    [
        .. new[] { ("flightDays", ClockUnit.FlightDays), ("flightHours", ClockUnit.FlightHours), ("flightCycles", ClockUnit.FlightCycles) }
            .Select(one => (Count: row.Number(one.Item1, 1, 10_000), Unit: one.Item2)).Where(one => one.Count is not null).Select(one => new ClockLimit(one.Unit, one.Count, null)),
        .. row.At("fixedEnd") is { } end ? [new ClockLimit(ClockUnit.FixedDate, null, end)] : Array.Empty<ClockLimit>(),
    ];

    private static (BasisKind Kind, string Code) KeyOf(ImportRow row)
    {
        row.Needed("kind");
        return (row.Choice<BasisKind>("kind") ?? BasisKind.MelItem, row.Needed("code", 32));
    }

    private static BasisTerms ReadTerms(ImportRow row, ImportWork work, IReadOnlyList<BasisCondition> conditions)
    {
        row.Needed("kinds");
        var kinds = row.Many("kinds").Select(text => row.Choice<FixtureKind>("kinds", text)).OfType<FixtureKind>().ToArray();
        var layouts = row.Many("layouts");
        foreach (var code in layouts.Where(code => work.Layouts.Keys.All(known => known.Code != code)))
        {
            row.Fault("layouts", $"Layout \"{code}\" is neither stored nor in this import.");
        }

        var (category, days) = (row.Choice<Category>("category"), row.Number("intervalDays", 1, 400));
        var limits = ReadLimits(row);
        if (category == Category.A && days is null && limits.Count == 0)
        {
            row.Fault("intervalDays", "Category A has its interval in the item's remarks. Give it in days (intervalDays), or in flightDays, flightHours, flightCycles or fixedEnd.");
        }

        if (category != Category.A && limits.Count > 0)
        {
            row.Fault("category", "Limits in flight days, hours, cycles or a fixed end belong to category A.");
        }

        // GM1 ORO.MLR.105(c),(d) as read in the UK consolidation: category D for electrically supplied galley items only with a maintenance procedure.
        if (category == Category.D && kinds.Any(kind => kind is FixtureKind.CoffeeMaker or FixtureKind.WaterHeater or FixtureKind.UltravioletSteriliser) && conditions.All(condition => condition.Kind != ConditionKind.Maintenance))
        {
            row.Fault("category", "Category D for an electrically supplied item needs a maintenance condition, (M), that makes it safe. List it in conditions.");
        }

        var placard = row.YesNo("placardRequired", true);
        if (placard && row.Text("placardText", 400).Length == 0)
        {
            row.Fault("placardText", "A placard is required: give its text.");
        }

        var (installed, required) = (row.Number("installed", 0, 99) ?? 0, row.Number("required", 0, 99) ?? 0);
        if (required > installed)
        {
            row.Fault("required", "No more can be required than are installed.");
        }

        return new BasisTerms(row.Needed("title"), row.Needed("revision", 20), category, days, kinds, layouts, installed, required, row.YesNo("leakAllowed", false), placard, row.Text("placardText", 400), row.YesNo("controlRequired", true), row.YesNo("certifyingRequired", true), conditions, limits, row.Text("requiredOperableBy", 60));
    }
}
