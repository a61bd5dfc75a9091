namespace Drainboard.Web.Features.Reliability;

/// <summary>Faults over time against those of like ones: what the plot draws.</summary>
/// <param name="Own">Where the heavy line steps, and to what.</param>
/// <param name="Foot">What is drawn, in a few words.</param>
public sealed record CumulativeView(string Words, string Foot, double WindowDays, IReadOnlyList<(double Day, double Value)> Own, IReadOnlyList<CumulativeStep> Fleet)
{
    public static CumulativeView Of(FixtureRepeats view) => new(
        $"{view.Days.Count} write-ups of {view.Name} in {view.WindowDays:0} days; the mean of its fleet is {Last(view.Fleet)} by then. {view.TrendWords}",
        "days · heavy: this one · band: mean of its fleet", view.WindowDays, [.. view.Days.Index().Select(one => (one.Item, one.Index + 1.0))], view.Fleet);

    public static CumulativeView Of(PlaceRepeats view) => new(
        $"Something was found at {view.Name} {Last(view.Own)} times a tail in {view.WindowDays:0} days; at like places of the layout {Last(view.Fleet)} times by then. {view.TrendWords}",
        "days · heavy: here, a tail · band: like places", view.WindowDays, [.. view.Own.Select(step => (step.Day, step.Mean))], view.Fleet);

    private static string Last(IReadOnlyList<CumulativeStep> steps) => steps.Count > 0 ? ReliabilityWords.Say(steps[^1].Mean) : "0";
}
