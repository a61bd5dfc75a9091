namespace Drainboard.Domain.TurnFit;

/// <summary>
/// How long several tasks take together. Each technician's tasks follow one another, so their times add up (exactly, by convolution); the
/// work is done when the last technician is, so the chances multiply. Adding up likely times, or looking at the longest hand alone, promises
/// too much. Safe for several threads.
/// </summary>
public sealed class WorkTime
{
    private readonly SumOfTimes[] _hands;
    private readonly Lazy<double> _likely;
    private readonly Lazy<double> _nineInTen;

    private WorkTime(SumOfTimes[] hands)
    {
        _hands = hands;
        (_likely, _nineInTen) = (new(() => Quantile(0.5)), new(() => Quantile(0.9)));
    }

    /// <summary>Minutes that are enough in one case of two.</summary>
    public double Likely => _likely.Value;

    /// <summary>Minutes that are enough in nine cases of ten.</summary>
    public double NineInTen => _nineInTen.Value;

    /// <param name="tasks">In the order in which they are handed out: each goes to the technician who is free first by likely times, of equals to the first.</param>
    /// <param name="technicians">One or more.</param>
    public static WorkTime Of(IReadOnlyList<TaskTime> tasks, int technicians = 1)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(technicians, 1);
        var hands = Enumerable.Range(0, technicians).Select(_ => (Likely: 0.0, Tasks: new List<TaskTime>())).ToArray();
        foreach (var task in tasks)
        {
            ref var first = ref hands[Array.IndexOf(hands, hands.MinBy(hand => hand.Likely))];
            first.Likely += task.Likely;
            first.Tasks.Add(task);
        }

        return new WorkTime([.. hands.Where(hand => hand.Tasks.Count > 0).Select(hand => new SumOfTimes(hand.Tasks))]);
    }

    /// <summary>Nothing shorter has a chance worth counting.</summary>
    internal double Least => _hands.Length == 0 ? 0 : _hands.Max(hand => hand.Least);

    /// <summary>The chance that all is done within so many minutes; error at most 0.0005.</summary>
    public double ChanceWithin(double minutes) => minutes < 0 ? 0 : _hands.Aggregate(1.0, (all, hand) => all * hand.ChanceWithin(minutes));

    /// <summary>So many minutes are enough with this chance, above 0 and below 1.</summary>
    public double Quantile(double chance)
    {
        if (_hands.Length == 0)
        {
            return 0;
        }

        var high = 1.0;
        while (ChanceWithin(high) < chance && high < 1e12)
        {
            high *= 2;
        }

        var low = 0.0;
        for (var step = 0; step < 60 && high - low > 1e-12 * high; step++)
        {
            var middle = (low + high) / 2;
            (low, high) = ChanceWithin(middle) < chance ? (middle, high) : (low, middle);
        }

        return high;
    }
}
