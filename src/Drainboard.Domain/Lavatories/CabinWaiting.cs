namespace Drainboard.Domain.Lavatories;

/// <summary>How long passengers wait with so many lavatories in service: between meals, and at the peak. Minutes throughout.</summary>
public sealed record CabinWaiting(int InService, FiniteQueue Usual, FiniteQueue Peak, LavatoryTerms Terms)
{
    /// <param name="passengers">As many as there are seats is the careful guess.</param>
    /// <returns>Null where nobody is on board or no lavatory is in service.</returns>
    public static CabinWaiting? Of(int passengers, int inService, LavatoryTerms terms)
    {
        if (passengers < 1 || inService < 1)
        {
            return null;
        }

        var (needs, served) = (terms.UsesPerPassengerHour / 60, 1 / terms.MinutesPerUse);
        return new CabinWaiting(inService, FiniteQueue.Of(passengers, needs, served, inService), FiniteQueue.Of(passengers, terms.PeakFactor * needs, served, inService), terms);
    }

    /// <summary>When the peaks of a sector are, in hours after off blocks: after its meals, in order, never overlapping.</summary>
    /// <param name="hours">Of the sector, block time; zero or more.</param>
    public static IReadOnlyList<(double From, double To)> Peaks(double hours, LavatoryTerms terms)
    {
        var length = Math.Min(hours, terms.PeakHours);
        var first = Math.Min(terms.FirstPeakAfterHours, hours - length);
        var last = Math.Max(first + length, hours - terms.LastPeakBeforeHours - length);
        IEnumerable<(double From, double To)> peaks = hours < terms.TwoPeaksFromHours ? [(first, first + length)] : [(first, first + length), (last, Math.Min(hours, last + length))];
        return [.. peaks.Where(peak => peak.From < peak.To)];
    }

    /// <summary>Minutes that all passengers together wait in a sector.</summary>
    /// <param name="hours">Zero or more.</param>
    public double PassengerMinutes(double hours)
    {
        var peak = Peaks(hours, Terms).Sum(one => one.To - one.From);
        return 60 * ((peak * Peak.MeanWaiting) + ((hours - peak) * Usual.MeanWaiting));
    }
}
