using Drainboard.Domain.Deferrals;
using Drainboard.Domain.Fleet;

namespace Drainboard.Web.Features.SetUp;

/// <summary>The operator's items for deferral, with their conditions. Another revision replaces the item; running deferrals keep the one they began under.</summary>
internal static class BasesImport
{
    public static void Read(ImportSource source, ImportWork work)
    {
        var conditions = source.Rows("conditions").Select(row => (Key: KeyOf(row), Condition: new BasisCondition(row.Choice<ConditionKind>("condition") ?? ConditionKind.Maintenance, row.Needed("words", 400)), Row: row)).ToLookup(one => one.Key);
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
        if (category == Category.A && days is null)
        {
            row.Fault("intervalDays", "Category A has its interval in the item's remarks. Give it in days.");
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

        return new BasisTerms(row.Needed("title"), row.Needed("revision", 20), category, days, kinds, layouts, installed, required, row.YesNo("leakAllowed", false), placard, row.Text("placardText", 400), row.YesNo("controlRequired", true), row.YesNo("certifyingRequired", true), conditions);
    }
}
