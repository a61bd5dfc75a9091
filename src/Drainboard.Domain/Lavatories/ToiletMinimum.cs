using System.Globalization;

namespace Drainboard.Domain.Lavatories;

/// <summary>
/// An operator's own rule: how many toilets are in service on a sector longer than so many hours. No authority's number stands behind it; it is the
/// operator's policy, and there is none until the operator sets one.
/// </summary>
/// <param name="Layout">Code of the layout that it is for; empty: every layout.</param>
/// <param name="OverHours">For sectors longer than this, block time in hours, 0 to 24; a sector of just so long is not meant.</param>
/// <param name="Fewest">In service, at least; 0 to 50.</param>
/// <param name="Accessible">An accessible one must be among them, where the layout marks any as such.</param>
/// <param name="Forbids">The departure is not made below it; else it is a warning.</param>
public sealed record ToiletMinimum(string Layout, double OverHours, int Fewest, bool Accessible, bool Forbids)
{
    public const int MostRules = 50;

    public string Words => $"{(Fewest == 0 ? "an accessible toilet" : $"at least {Fewest.ToString(CultureInfo.InvariantCulture)} toilet{(Fewest == 1 ? "" : "s")}{(Accessible ? ", an accessible one among them," : "")}")} on sectors over {OverHours.ToString("0.##", CultureInfo.InvariantCulture)} h{(Layout.Length > 0 ? $" of layout {Layout}" : "")}";

    /// <summary>The rule that a sector would break, one that forbids before one that warns; null: none.</summary>
    /// <param name="hours">Block time of the sector.</param>
    public static ToiletMinimum? Broken(IEnumerable<ToiletMinimum> rules, string layout, double hours, ToiletCount toilets) => rules
        .Where(rule => (rule.Layout.Length == 0 || rule.Layout == layout) && hours > rule.OverHours && (toilets.InService < rule.Fewest || (rule.Accessible && toilets is { AccessibleInstalled: > 0, AccessibleInService: 0 })))
        .OrderByDescending(rule => rule.Forbids).ThenByDescending(rule => rule.Fewest).FirstOrDefault();

    /// <summary>Why these cannot be the rules, or null.</summary>
    public static Refusal? WhyNot(IReadOnlyList<ToiletMinimum> rules) =>
        rules.Count > MostRules ? new Refusal("too-many-minimums", $"Up to {MostRules} rules are kept.")
        : rules.Any(rule => !(rule.OverHours is >= 0 and <= 24)) ? new Refusal("minimum-hours", "A rule is for sectors over 0 to 24 hours.")
        : rules.Any(rule => rule.Fewest is < 0 or > 50 || (rule.Fewest == 0 && !rule.Accessible)) ? new Refusal("minimum-toilets", "A rule asks for 1 to 50 toilets, or for an accessible one.")
        : null;
}
