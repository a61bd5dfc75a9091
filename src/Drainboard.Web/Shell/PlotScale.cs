using System.Globalization;

namespace Drainboard.Web.Shell;

/// <summary>Turns a value into a place on the paper, and names round values along the way.</summary>
public sealed record PlotScale(double From, double To, double Start, double End)
{
    private const int WantedTicks = 5;

    public string At(double value) => Number(Place(value));

    /// <summary>What lies beyond either end stands at it.</summary>
    public double Place(double value) => Start + ((End - Start) * (To > From ? Math.Clamp((value - From) / (To - From), 0, 1) : 0));

    public IEnumerable<double> Ticks()
    {
        var step = Step((To - From) / WantedTicks);
        for (var k = (long)Math.Ceiling(From / step); k * step <= To * (1 + 1e-9); k++)
        {
            yield return k * step;
        }
    }

    /// <summary>A tick's own value.</summary>
    public static string Name(double tick) => tick.ToString("0.####", CultureInfo.InvariantCulture);

    public static string Number(double value) => value.ToString("0.#", CultureInfo.InvariantCulture);

    // 1, 2 or 5 times a power of ten.
    private static double Step(double rough)
    {
        var power = Math.Pow(10, Math.Floor(Math.Log10(Math.Max(rough, 1e-12))));
        return (rough / power) switch { <= 1 => power, <= 2 => 2 * power, <= 5 => 5 * power, _ => 10 * power };
    }
}
