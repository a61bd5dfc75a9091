using Drainboard.Domain;
using Drainboard.Domain.Reliability;
using Drainboard.Web.Hosting;

namespace Drainboard.Web.Features.Reliability;

/// <summary>How the numbers were come by, in sentences, with what each rests on.</summary>
internal static class ReliabilityWords
{
    public static IReadOnlyList<Explained> OfFleet(FleetRates fleet, string unit, double falseDiscovery) =>
    [
        new($"{fleet.Fixtures.Sum(one => one.Count.Events)} faults in {Say(fleet.Fixtures.Sum(one => one.Count.Exposure))} {unit}s of {fleet.Fixtures.Count} fixtures: {Say(fleet.Rate)} a {unit}. Each is counted as independent of the others at a constant rate.", "Poisson; our arithmetic"),
        new("Each rate has its exact 95 % interval; no fault in a time is not a rate of zero.", "Garwood 1936"),
        new("Each fixture is tested against the rest of the fleet without it, one-sided: as many faults or more by chance alone.", "conditional binomial test"),
        new($"{fleet.Fixtures.Count} were tested, so the p-values are adjusted: of those flagged, {Say(100 * falseDiscovery)} % at most are expected to be so by chance.", "Benjamini and Hochberg 1995"),
        fleet.Prior is { } prior
            ? new($"The fleet's true rates are spread as a gamma distribution of shape {Say(prior.Alpha)} and mean {Say(prior.Mean)}; each fixture's is drawn toward it, and the list goes by the rate that its true one exceeds with a chance of 95 %.", "empirical Bayes, maximum likelihood of the negative binomial (as for the ten pumps of Gaver and O'Muircheartaigh 1987)")
            : new("The fixtures differ no more than chance makes them, so none is ranked above another: the common rate stands for each.", "our arithmetic"),
        new("None of this overrides approved data or a deferral's limits.", "common practice"),
    ];

    public static IReadOnlyList<Explained> OfTrend(FaultTrend trend, bool endedByFault) => trend.LaplaceU is not { } u
        ? [new("There is no fault to judge by.", "our arithmetic")]
        :
        [
            new($"Laplace: U = {Say(u)}, p = {Say(trend.LaplaceP!.Value)} (two-sided, {(trend.DegreesOfFreedom < 20 ? "exact" : "normal")}). Above zero the faults come late in the time. This test decides, at 5 %.", "Laplace; Irwin-Hall for fewer than ten"),
            new($"MIL-HDBK-189: chi-squared {Say(trend.ChiSquare!.Value)} on {trend.DegreesOfFreedom} degrees of freedom, p = {Say(trend.ChiSquareP!.Value)}; small is worsening. The two can disagree.", "MIL-HDBK-189"),
            trend.Growth is { } growth ? new($"Power law: beta {Say(growth.Beta)} (90 %: {Say(growth.Beta90.Low)} to {Say(growth.Beta90.High)}); above 1 is worsening.", "maximum likelihood; chi-squared pivot") : new($"Fewer than {PowerLaw.FewestEvents} faults: no growth is fitted.", "our arithmetic"),
            new(endedByFault ? "The watch ended with the last fault, which says nothing of its own." : "The watch ended at its own time, after the last fault.", "our arithmetic"),
        ];

    public static IReadOnlyList<Explained> OfCleaning(CleaningPlan plan, int blocked, int running, string unit) =>
    [
        new($"{blocked} blockages and {running} ages that did not end in one: shape {Say(plan.Life.Shape)} (90 %: {Say(plan.Life.Shape90.Low)} to {Say(plan.Life.Shape90.High)}), scale {Say(plan.Life.Scale)} {unit}.", "Weibull, right-censored, maximum likelihood; profile likelihood"),
        !plan.Life.ShowsWearOut
            ? new("The shape may be 1 or less: wear-out is not shown, and cleaning by interval may gain nothing. No interval is advised.", "our arithmetic")
        : plan.Interval is { } interval
            ? new($"Least cost at every {Say(interval)} {unit}: {Say(100 * plan.Saving)} % less than cleaning when blocked.", "age replacement, Barlow and Hunter 1960")
            : new($"The best interval would save {Say(100 * plan.Saving)} %, below {Say(100 * CleaningPlan.LeastSaving)} %: none is advised.", "age replacement, Barlow and Hunter 1960"),
        new("Engineering's decision, in the approved programme.", "common practice"),
    ];

    /// <summary>A p-value for people: the digits of a very small one say nothing.</summary>
    public static string Chance(double p) => p < 0.001 ? "below 0.001" : Say(Math.Round(p, 3));

    public static string Say(double value) => value switch
    {
        0 => "0",
        _ when double.IsInfinity(value) => "no limit",
        _ when Math.Abs(value) is >= 0.0001 and < 1e7 => value.ToString(Math.Abs(value) >= 100 ? "0" : Math.Abs(value) >= 1 ? "0.##" : "0.####", Words.Culture),
        _ => value.ToString("0.##E0", Words.Culture),
    };
}
