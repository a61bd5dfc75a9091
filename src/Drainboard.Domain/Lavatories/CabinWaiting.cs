namespace Drainboard.Domain.Lavatories;

/// <summary>How long passengers wait with so many lavatories in service: between meals, and at the peak. Minutes throughout.</summary>
public sealed record CabinWaiting(int InService, FiniteQueue Usual, FiniteQueue Peak, double PeakHours)
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
        return new CabinWaiting(inService, FiniteQueue.Of(passengers, needs, served, inService), FiniteQueue.Of(passengers, terms.PeakFactor * needs, served, inService), terms.PeakHours);
    }

    /// <summary>Minutes that all passengers together wait in a sector.</summary>
    /// <param name="hours">Zero or more.</param>
    public double PassengerMinutes(double hours)
    {
        var peak = Math.Min(hours, PeakHours);
        return 60 * ((peak * Peak.MeanWaiting) + ((hours - peak) * Usual.MeanWaiting));
    }
}
