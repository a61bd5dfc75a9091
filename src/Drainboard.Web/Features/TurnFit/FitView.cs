using Drainboard.Domain.TurnFit;
using NodaTime;

namespace Drainboard.Web.Features.TurnFit;

/// <summary>Whether what is left of an item fits its aircraft's stay.</summary>
/// <param name="UsableMinutes">In one piece at the place in question, less papers and the call to control.</param>
/// <param name="TotalMinutes">To the departure.</param>
/// <param name="Words">The same in a line.</param>
public sealed record FitView(double Chance, int UsableMinutes, int TotalMinutes, int LikelyMinutes, int NineInTenMinutes, Instant? From, Instant? Until, string Words)
{
    /// <summary>What is left, for those who add items up.</summary>
    internal WorkTime? Work { get; init; }

    public static FitView Of(FitOutlook fit)
    {
        var (usable, total, likely, nine) = ((int)fit.UsableMinutes, (int)fit.TotalMinutes, (int)Math.Round(fit.LikelyMinutes), (int)Math.Ceiling(fit.NineInTenMinutes));
        return new FitView(fit.Chance, usable, total, likely, nine, fit.From, fit.Until, usable < 1
            ? $"does not fit: nothing usable of {total} min (likely {likely}, 9 in 10 under {nine})"
            : $"fits: {Percent(fit.Chance)} ({usable} usable of {total} min, likely {likely}, 9 in 10 under {nine})");
    }

    public static FitView Unable(FitOutlook fit, string station) => Of(fit) with { Chance = 0, Words = $"not here: {station} cannot do this kind of work" };

    /// <summary>Never "0 %" or "100 %" of what is not certain.</summary>
    public static string Percent(double chance) => chance switch
    {
        < 0.01 => "under 1 %",
        > 0.99 => "over 99 %",
        _ => $"{Math.Round(100 * chance):0} %",
    };
}
