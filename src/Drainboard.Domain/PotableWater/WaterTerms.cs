using System.Text.RegularExpressions;

namespace Drainboard.Domain.PotableWater;

/// <summary>
/// What an operator does for drinking water, and how often: the operator's own plan by reference. Under 40 CFR part 141 subpart X
/// the intervals may not be longer than the rule's; an operator of another country states their own.
/// </summary>
/// <param name="Title">Up to 80 characters.</param>
/// <param name="UnderSubpartX">Whether the intervals are held against 40 CFR 141.803(b)(3) and 141.808.</param>
/// <param name="DisinfectEveryDays">1 to 366. The manufacturer's frequency governs where there is one (141.803(b)(3)).</param>
/// <param name="SampleEveryDays">1 to 366: from one routine set to the next.</param>
/// <param name="InspectEveryMonths">1 to 120: from one self-inspection to the next; at most 60 under the rule (141.808).</param>
/// <param name="CanShutOff">Whether the flow to every tap can be shut off (141.804(b)(8)).</param>
/// <param name="Manual">Where agent, concentration, contact time and flushing stand: the operator's plan by reference (141.804(b)(2)). They are never ours.</param>
/// <param name="Source">What the intervals rest on.</param>
public sealed partial record WaterTerms(string Title, bool UnderSubpartX, int DisinfectEveryDays, int SampleEveryDays, int InspectEveryMonths, bool CanShutOff, string Manual, string Source, IReadOnlyList<WaterItem> Items)
{
    private const int DaysAYear = 365;
    private const int MonthsOfTheRule = 60;
    private const int MostItems = 20;

    /// <summary>How many disinfections and flushings a year the interval makes, whole ones; none where the interval is not one.</summary>
    public int DisinfectionsAYear => DisinfectEveryDays < 1 ? 0 : DaysAYear / DisinfectEveryDays;

    /// <summary>Why this cannot be a programme, or null.</summary>
    public Refusal? WhyNot() =>
        Title.Trim().Length is 0 or > 80 ? new Refusal("water-title", "Give the programme a title of up to 80 characters.")
        : Manual.Trim().Length is 0 or > 200 || Source.Trim().Length is 0 or > 200 ? new Refusal("water-sources", "Name the plan or manual that the work is done to, and what the intervals rest on (up to 200 characters each).")
        : DisinfectEveryDays is < 1 or > 366 || SampleEveryDays is < 1 or > 366 ? new Refusal("water-interval", "Disinfection and sampling are 1 to 366 days apart.")
        : InspectEveryMonths is < 1 or > 120 ? new Refusal("water-inspection", "Self-inspections are 1 to 120 months apart.")
        : UnderSubpartX && DaysAYear / WaterRule.RoutineSetsPerYear(DisinfectionsAYear) is var most && SampleEveryDays > most
            ? new Refusal("water-samples", $"Disinfected every {DisinfectEveryDays} days ({DisinfectionsAYear} times a year), at least {WaterRule.RoutineSetsPerYear(DisinfectionsAYear)} routine sets a year are asked for (40 CFR 141.803(b)(3)): sample every {most} days or sooner.")
        : UnderSubpartX && InspectEveryMonths > MonthsOfTheRule ? new Refusal("water-inspection", "A self-inspection is asked for at least every 5 years (40 CFR 141.808): 60 months or fewer.")
        : Items.Count > MostItems ? new Refusal("water-items", $"A programme has up to {MostItems} serviceable items.")
        : Items.FirstOrDefault(item => !KeyForm().IsMatch(item.Key) || item.Name.Trim().Length is 0 or > 80 || item.EveryDays is < 1 or > 3660 || item.EveryHours is < 1 or > 100_000 || (item.EveryDays ?? item.EveryHours) is null) is { } bad
            ? new Refusal("water-item", $"Item \"{bad.Key}\": a key of 1 to 24 lower-case letters, digits and hyphens, a name of up to 80 characters, and days (1 to 3660), flight hours (1 to 100000) or both.")
        : Items.Select(item => item.Key).Distinct(StringComparer.Ordinal).Count() < Items.Count ? new Refusal("water-item", "Each item's key stands once.")
        : null;

    [GeneratedRegex("^[a-z0-9][a-z0-9-]{0,23}$")]
    private static partial Regex KeyForm();
}
