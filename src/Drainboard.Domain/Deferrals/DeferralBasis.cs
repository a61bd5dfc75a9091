using Drainboard.Domain.Fleet;

namespace Drainboard.Domain.Deferrals;

/// <summary>
/// One item of the operator's own documents under which a defect may be carried. The document governs; this is an extract
/// that says which fixtures it covers, what must be done first, and who must agree.
/// </summary>
public sealed class DeferralBasis
{
    private DeferralBasis()
    {
    }

    public DeferralBasis(BasisId id, BasisKind kind, string code, BasisTerms terms)
    {
        (Id, Kind, Code) = (id, kind, code);
        Set(terms);
    }

    public BasisId Id { get; private set; }

    public BasisKind Kind { get; private set; }

    public string Code { get; private set; } = "";

    public BasisTerms Terms { get; private set; } = BasisTerms.Empty;

    public long Version { get; private set; }

    /// <summary>Takes the terms of another revision; answers whether anything differs. A running deferral keeps the terms it began under.</summary>
    public bool Set(BasisTerms terms)
    {
        var same = Terms == terms;
        Terms = terms;
        return !same;
    }

    /// <param name="layout">Code of the layout that the fixture is of.</param>
    public bool Covers(FixtureKind kind, string layout) => Terms.Kinds.Contains(kind) && (Terms.Layouts.Count == 0 || Terms.Layouts.Contains(layout));

    /// <summary>
    /// What is done before and while a fixture of this kind is carried. Where an item lets a drain mast be carried and asks nothing of maintenance, its water is shut off and its
    /// line drained, so that nothing freezes on it. Where the item takes a toilet or a basin out of use (it asks for a placard) and asks nothing
    /// of operations, the usual is added: common practice, no source; smoke detection and waste bin extinguishers of a locked lavatory go on being checked.
    /// </summary>
    public IReadOnlyList<BasisCondition> ConditionsFor(FixtureKind kind) =>
        kind == FixtureKind.DrainMast
            ? Terms.Conditions.Any(condition => condition.Kind == ConditionKind.Maintenance) ? Terms.Conditions :
            [
                .. Terms.Conditions,
                new BasisCondition(ConditionKind.Maintenance, "Water of all that drains to this mast shut off, and placarded there."),
                new BasisCondition(ConditionKind.Maintenance, "Line down to this mast drained; no ice on or under it."),
            ]
        : !Terms.PlacardRequired || Terms.Conditions.Any(condition => condition.Kind == ConditionKind.Operational) ? Terms.Conditions : kind switch
        {
            FixtureKind.Toilet =>
            [
                .. Terms.Conditions,
                new BasisCondition(ConditionKind.Operational, "Lavatory locked."),
                new BasisCondition(ConditionKind.Operational, "Crew told to go on checking its smoke detection and waste bin extinguisher.", EachDeparture: true),
            ],
            FixtureKind.LavatoryBasin => [.. Terms.Conditions, new BasisCondition(ConditionKind.Operational, "Gel or wipes for hands placed in the lavatory: no use of it without another way to clean hands.", EachDeparture: true)],
            _ => Terms.Conditions,
        };

    public static string Words(BasisKind kind) => kind switch
    {
        BasisKind.MelItem => "MEL",
        BasisKind.CabinItem => "Cabin list",
        BasisKind.ManualLimit => "Manual limit",
    };
}
