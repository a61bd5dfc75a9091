using System.Collections.Concurrent;
using System.Numerics;
using MathNet.Numerics.IntegralTransforms;

namespace Drainboard.Domain.TurnFit;

/// <summary>
/// The distribution of a sum of independent times, by convolution on a grid. What is asked about lies in the upper half of its grid, whose
/// width is a power of two; grids are kept, so that the next question costs little.
/// </summary>
internal sealed class SumOfTimes(IReadOnlyList<TaskTime> tasks)
{
    private const int Cells = 4096;

    private readonly ConcurrentDictionary<int, double[]> _grids = [];

    public double Least { get; } = tasks.Sum(task => task.Least);

    public double ChanceWithin(double minutes)
    {
        var beyond = minutes - Least;
        if (beyond < 0)
        {
            return 0;
        }

        if (tasks.Count == 1)
        {
            return tasks[0].ChanceWithin(minutes);
        }

        if (beyond < 1e-9)
        {
            return tasks.All(task => task.ChanceWithin(task.Least + 1e-9) >= 1) ? 1 : 0;
        }

        var power = (int)Math.Ceiling(Math.Log2(beyond));
        var sums = _grids.GetOrAdd(power, Grid);
        var at = (beyond / Math.ScaleB(1, power) * Cells) - 0.5;
        var below = (int)Math.Floor(at);
        var low = below < 0 ? 0 : sums[Math.Min(below, Cells - 1)];
        return low + ((at - below) * (sums[Math.Min(below + 1, Cells - 1)] - low));
    }

    // Cell k holds the chance of a rounded sum of at most k steps beyond the least: the chance at half a step more.
    private double[] Grid(int power)
    {
        var step = Math.ScaleB(1, power) / Cells;
        var sum = Masses(tasks[0], step);
        foreach (var task in tasks.Skip(1))
        {
            sum = Convolve(sum, Masses(task, step));
        }

        var running = 0.0;
        for (var cell = 0; cell < Cells; cell++)
        {
            running += sum[cell];
            sum[cell] = Math.Min(1, running);
        }

        return sum;
    }

    private static double[] Masses(TaskTime task, double step)
    {
        var masses = new double[Cells];
        var before = 0.0;
        for (var cell = 0; cell < Cells; cell++)
        {
            var here = task.ChanceWithin(task.Least + ((cell + 0.5) * step));
            masses[cell] = here - before;
            before = here;
        }

        return masses;
    }

    private static double[] Convolve(double[] left, double[] right)
    {
        var both = new Complex[2 * Cells];
        for (var cell = 0; cell < Cells; cell++)
        {
            both[cell] = new Complex(left[cell], right[cell]);
        }

        // One transform serves both: the product of two real rows is the imaginary part of the square of their complex row, halved.
        Fourier.Forward(both, FourierOptions.NoScaling);
        for (var cell = 0; cell < both.Length; cell++)
        {
            both[cell] *= both[cell];
        }

        Fourier.Inverse(both, FourierOptions.NoScaling);
        var sum = new double[Cells];
        for (var cell = 0; cell < Cells; cell++)
        {
            sum[cell] = Math.Max(0, both[cell].Imaginary / (2.0 * both.Length));
        }

        return sum;
    }
}
