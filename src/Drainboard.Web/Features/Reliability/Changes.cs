using Drainboard.Domain.Reliability;
using NodaTime;
using static Drainboard.Web.Features.Reliability.ReliabilityWords;

namespace Drainboard.Web.Features.Reliability;

/// <summary>Whether a change did anything: the rate after it over the rate before it, with its exact interval.</summary>
internal static class Changes
{
    public static ChangeView? Of(Instant at, string what, int before, double exposureBefore, int after, double exposureAfter, ExposureUnit unit)
    {
        if (exposureBefore <= 0 || exposureAfter <= 0)
        {
            return null;
        }

        var ratio = RateRatio.Of(after, exposureAfter, before, exposureBefore);
        double? high = double.IsInfinity(ratio.Limits.High) ? null : ratio.Limits.High;
        return new ChangeView(at, what, before, exposureBefore, after, exposureAfter, unit, ratio.Ratio is { } times && double.IsFinite(times) ? times : null, ratio.Limits.Low, high, Words(ratio, before, exposureBefore, after, exposureAfter, StandingWords.Unit(unit)));
    }

    private static string Words(RateRatio ratio, int before, double exposureBefore, int after, double exposureAfter, string unit)
    {
        var counts = $"{before} in {Say(exposureBefore)} {unit} before, {after} in {Say(exposureAfter)} after";
        var verdict = ratio.Limits.High < 1 ? $"It helped: the rate is {Say(ratio.Ratio!.Value)} of what it was ({Say(ratio.Limits.Low)} to {Say(ratio.Limits.High)})."
            : ratio.Limits.Low > 1 ? $"It is worse: {(double.IsFinite(ratio.Ratio!.Value) ? $"{Say(ratio.Ratio.Value)} times" : "many times")} what it was (at least {Say(ratio.Limits.Low)})."
            : $"Nothing is shown yet: between {Say(ratio.Limits.Low)} and {Say(ratio.Limits.High)} of what it was.";
        return $"{counts}. {verdict}";
    }
}
