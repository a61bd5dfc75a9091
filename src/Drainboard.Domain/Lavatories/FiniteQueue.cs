namespace Drainboard.Domain.Lavatories;

/// <summary>
/// Waiting among a known number of people, each of whom comes after a while of not needing to (M/M/c with a finite source). Who arrives finds
/// the others as they would be without them, so the chance of waiting is not the share of time in which all lavatories are occupied.
/// </summary>
/// <param name="ArrivingWaitProbability">That one who comes finds every lavatory occupied.</param>
/// <param name="MeanWait">Over all who come, those who do not wait included.</param>
/// <param name="MeanWaitOfWaiting">Over those who wait; zero where nobody does.</param>
/// <param name="MeanWaiting">People waiting, on average over time.</param>
/// <param name="AllOccupied">Share of the time.</param>
/// <param name="MeanThere">People waiting or inside, on average over time.</param>
/// <param name="Arrivals">People who come in a unit of time.</param>
public sealed record FiniteQueue(double ArrivingWaitProbability, double MeanWait, double MeanWaitOfWaiting, double MeanWaiting, double AllOccupied, double MeanThere, double Arrivals)
{
    private const double TooLarge = 1e200;

    /// <param name="people">One or more.</param>
    /// <param name="needs">How often one who is not there comes, in a unit of time; zero or more.</param>
    /// <param name="served">People that one lavatory serves in a unit of time, above zero.</param>
    /// <param name="lavatories">One or more.</param>
    public static FiniteQueue Of(int people, double needs, double served, int lavatories)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(people, 1);
        ArgumentOutOfRangeException.ThrowIfNegative(needs);
        ArgumentOutOfRangeException.ThrowIfNegativeOrZero(served);
        ArgumentOutOfRangeException.ThrowIfLessThan(lavatories, 1);
        var (all, others) = (States(people, needs, served, lavatories), States(people - 1, needs, served, lavatories));
        var there = all.Select((chance, count) => count * chance).Sum();
        var waiting = all.Select((chance, count) => Math.Max(0, count - lavatories) * chance).Sum();
        var (arrivals, waits) = (needs * (people - there), Chance(others, lavatories));
        var wait = arrivals > 0 ? waiting / arrivals : 0;
        return new FiniteQueue(waits, wait, waits > 0 ? wait / waits : 0, waiting, Chance(all, lavatories), there, arrivals);
    }

    /// <summary>So many or more; a sum of rounded parts is no more than certain.</summary>
    private static double Chance(double[] states, int atLeast) => Math.Min(1, states.Skip(atLeast).Sum());

    /// <summary>The chance that so many are there, for none up to all.</summary>
    private static double[] States(int people, double needs, double served, int lavatories)
    {
        var weights = new double[people + 1];
        weights[0] = 1;
        for (var count = 1; count <= people; count++)
        {
            weights[count] = weights[count - 1] * (people - count + 1) * needs / (Math.Min(count, lavatories) * served);
            if (weights[count] > TooLarge)
            {
                for (var before = 0; before <= count; before++)
                {
                    weights[before] /= TooLarge;
                }
            }
        }

        var sum = weights.Sum();
        return [.. weights.Select(weight => weight / sum)];
    }
}
