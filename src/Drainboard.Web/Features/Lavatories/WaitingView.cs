using System.Globalization;
using Drainboard.Domain.Lavatories;

namespace Drainboard.Web.Features.Lavatories;

/// <summary>Waiting with so many toilets in service, in words and figures of arriving passengers.</summary>
public sealed record WaitingView(int InService, double PeakChance, double PeakMinutes, double UsualChance, double UsualMinutes, string Words)
{
    private const double Hardly = 0.02;
    private const double Nearly = 0.95;

    public static WaitingView? Of(CabinWaiting? waiting) => waiting is null ? null : new WaitingView(
        waiting.InService, waiting.Peak.ArrivingWaitProbability, waiting.Peak.MeanWaitOfWaiting, waiting.Usual.ArrivingWaitProbability, waiting.Usual.MeanWaitOfWaiting,
        $"at the peak {Say(waiting.Peak)}; else {Say(waiting.Usual)}");

    private static string Say(FiniteQueue queue) => queue.ArrivingWaitProbability switch
    {
        < Hardly => "hardly anybody waits",
        > Nearly => $"nearly everybody waits, {Minutes(queue.MeanWaitOfWaiting)} on average",
        >= 0.4 => $"about {Math.Round(10 * queue.ArrivingWaitProbability).ToString(CultureInfo.InvariantCulture)} in 10 wait, {Minutes(queue.MeanWaitOfWaiting)} on average",
        _ => $"about 1 in {Math.Round(1 / queue.ArrivingWaitProbability).ToString(CultureInfo.InvariantCulture)} waits, {Minutes(queue.MeanWaitOfWaiting)} on average",
    };

    private static string Minutes(double minutes) => minutes < 1 ? "under a minute" : $"{Math.Round(minutes).ToString(CultureInfo.InvariantCulture)} min";
}
