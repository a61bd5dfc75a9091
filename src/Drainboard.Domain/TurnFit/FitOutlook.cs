using NodaTime;

namespace Drainboard.Domain.TurnFit;

/// <summary>Whether what is left of an item fits the stay that is under way or next. Usable is not the whole: both are shown.</summary>
/// <param name="UsableMinutes">In one piece at the place in question from now on, less what paperwork and the call to control take.</param>
/// <param name="TotalMinutes">To the departure.</param>
/// <param name="Chance">Of being done within the usable minutes.</param>
/// <param name="From">The usable stretch, and <paramref name="Until"/> its end before the papers; null where there is none.</param>
public sealed record FitOutlook(double UsableMinutes, double TotalMinutes, double Chance, double LikelyMinutes, double NineInTenMinutes, Instant? From, Instant? Until)
{
    /// <param name="workable">When the place can be worked.</param>
    /// <param name="now">Work begins no earlier.</param>
    public static FitOutlook Of(WorkTime work, IReadOnlyList<(Instant From, Instant To)> workable, Instant arrives, Instant departs, Instant now, FitTerms terms)
    {
        var reserve = Duration.FromSeconds(60 * (terms.PaperworkMinutes + terms.ControlCallMinutes));
        var end = departs - reserve;
        (Instant From, Instant To)? best = null;
        foreach (var (opens, closes) in workable)
        {
            var (from, to) = (Instant.Max(opens, now), Instant.Min(closes, end));
            if (to > from && (best is not { } known || to - from > known.To - known.From))
            {
                best = (from, to);
            }
        }

        var usable = best is { } stretch ? (stretch.To - stretch.From).TotalMinutes : 0;
        return new FitOutlook(usable, Math.Max(0, (departs - Instant.Max(now, arrives)).TotalMinutes), usable > 0 ? work.ChanceWithin(usable) : 0, work.Likely, work.NineInTen, best?.From, best?.To);
    }
}
