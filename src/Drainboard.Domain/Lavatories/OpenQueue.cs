namespace Drainboard.Domain.Lavatories;

/// <summary>
/// Waiting where users come at a steady rate however many are waiting already (M/M/c; Erlang C). Passengers are few and finite: it is the plain
/// comparison, not what a cabin is judged by.
/// </summary>
/// <param name="WaitProbability">That a user waits.</param>
/// <param name="MeanWait">Over all users, those who do not wait included; in the unit of time of the rates.</param>
/// <param name="MeanWaiting">Users waiting, on average over time.</param>
public sealed record OpenQueue(double WaitProbability, double MeanWait, double MeanWaiting)
{
    /// <param name="arrivals">Users in a unit of time, above zero.</param>
    /// <param name="served">Users that one lavatory serves in a unit of time, above zero.</param>
    /// <returns>Null where more come than can be served: the wait grows without end.</returns>
    public static OpenQueue? Of(double arrivals, double served, int lavatories)
    {
        ArgumentOutOfRangeException.ThrowIfNegativeOrZero(arrivals);
        ArgumentOutOfRangeException.ThrowIfNegativeOrZero(served);
        ArgumentOutOfRangeException.ThrowIfNegative(lavatories);
        var load = arrivals / served;
        if (load >= lavatories)
        {
            return null;
        }

        // Erlang B by its recursion, and Erlang C from it: no factorials.
        var blocked = 1.0;
        for (var servers = 1; servers <= lavatories; servers++)
        {
            blocked = load * blocked / (servers + (load * blocked));
        }

        var waits = lavatories * blocked / (lavatories - (load * (1 - blocked)));
        var wait = waits / ((lavatories * served) - arrivals);
        return new OpenQueue(waits, wait, wait * arrivals);
    }

    /// <summary>That a user waits longer than a time.</summary>
    public double ChanceOfLonger(double time, double arrivals, double served, int lavatories) => WaitProbability * Math.Exp(-((lavatories * served) - arrivals) * time);
}
