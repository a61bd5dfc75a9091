namespace Drainboard.Domain.Reliability;

/// <summary>
/// The planned interval at which cleaning costs least in the long run (age replacement, Barlow and Hunter 1960), where wear-out is shown
/// and it saves enough to be worth saying. A change of interval is engineering's decision in the approved programme; this is one reason for it.
/// </summary>
/// <param name="Interval">In the unit of the ages; null where nothing is advised.</param>
/// <param name="Saving">Against cleaning when blocked only, as a share of that cost; 0 where no interval beats it.</param>
public sealed record CleaningPlan(WeibullFit Life, double? Interval, double Saving, double CostPerTime)
{
    /// <summary>Less is lost in what the costs are uncertain by (our choice).</summary>
    public const double LeastSaving = 0.05;

    // Beyond this power of the age nothing is left running that a double could show.
    private const double AllBlocked = 500;

    /// <exception cref="ArgumentOutOfRangeException">A cost that is not above zero.</exception>
    public static CleaningPlan Of(WeibullFit life, double plannedCost, double unplannedCost)
    {
        ArgumentOutOfRangeException.ThrowIfNegativeOrZero(plannedCost);
        ArgumentOutOfRangeException.ThrowIfNegativeOrZero(unplannedCost);
        var never = unplannedCost / life.MeanLife;
        if (Best(life, plannedCost, unplannedCost) is not { } best)
        {
            return new CleaningPlan(life, null, 0, never);
        }

        var saving = 1 - (best.Cost / never);
        return new CleaningPlan(life, life.ShowsWearOut && saving >= LeastSaving ? best.At : null, saving, best.Cost);
    }

    /// <summary>The interval of least cost and that cost per time; null where no interval beats waiting (no wear-out, or planned costs as much).</summary>
    public static (double At, double Cost)? Best(WeibullFit life, double plannedCost, double unplannedCost)
    {
        if (life.Shape <= 1 || unplannedCost <= plannedCost)
        {
            return null;
        }

        var odds = plannedCost / (unplannedCost - plannedCost);
        double Excess(double log)
        {
            var at = Math.Exp(log);
            return (life.Hazard(at) * RunTime(life, at)) - life.BlockedBy(at) - odds;
        }

        var (low, high) = (Math.Log(life.Scale) - 30, Math.Log(life.Scale));
        while (Excess(high) < 0)
        {
            high += 0.5;
            if (Math.Exp(high) > 1e6 * life.Scale)
            {
                return null;
            }
        }

        var found = Math.Exp(Solve.Zero(Excess, low, high));
        return (found, (unplannedCost - plannedCost) * life.Hazard(found));
    }

    /// <summary>Cost per time with a planned interval: the curve behind the advice.</summary>
    public static double Cost(WeibullFit life, double plannedCost, double unplannedCost, double interval) =>
        ((plannedCost * (1 - life.BlockedBy(interval))) + (unplannedCost * life.BlockedBy(interval))) / RunTime(life, interval);

    /// <summary>Expected time to a cleaning, planned or not: the survival function's integral, by the lower incomplete gamma function's series of positive terms.</summary>
    internal static double RunTime(WeibullFit life, double until)
    {
        var power = Math.Pow(until / life.Scale, life.Shape);
        if (power > AllBlocked)
        {
            return life.MeanLife;
        }

        var (a, term) = (1 / life.Shape, life.Shape);
        var sum = term;
        for (var k = 1; term > sum * 1e-17; k++)
        {
            term *= power / (a + k);
            sum += term;
        }

        return until / life.Shape * Math.Exp(-power) * sum;
    }
}
