namespace Drainboard.Web.Features.Demo;

/// <summary>Repeatable chance for invented data: the same seed gives the same airline. Never used for anything secret.</summary>
internal sealed class Dice(int seed)
{
    // Mixed first: seeds that follow each other would else give one stream, each a step later in it.
    private ulong _state = Mix((ulong)seed + 0x1234567);

    /// <summary>Uniform in [0, 1).</summary>
    public double Next()
    {
        unchecked
        {
            _state += 0x9E3779B97F4A7C15;
            return (Mix(_state) >> 11) / (double)(1UL << 53);
        }
    }

    private static ulong Mix(ulong z)
    {
        unchecked
        {
            z = (z ^ (z >> 30)) * 0xBF58476D1CE4E5B9;
            z = (z ^ (z >> 27)) * 0x94D049BB133111EB;
            return z ^ (z >> 31);
        }
    }

    public bool Chance(double probability) => Next() < probability;

    public int Between(int from, int to) => from + (int)(Next() * (to - from + 1));

    public T Pick<T>(IReadOnlyList<T> from) => from[(int)(Next() * from.Count)];

    public T Weighted<T>(IReadOnlyList<(T What, double Weight)> from)
    {
        var at = Next() * from.Sum(one => one.Weight);
        foreach (var (what, weight) in from)
        {
            at -= weight;
            if (at < 0)
            {
                return what;
            }
        }

        return from[^1].What;
    }

    /// <summary>Minutes from a three-point estimate: triangular, which is plenty for a demo.</summary>
    public int Minutes(int best, int likely, int worst)
    {
        var u = Next();
        var turn = (likely - best) / (double)(worst - best);
        var value = u < turn
            ? best + Math.Sqrt(u * (worst - best) * (likely - best))
            : worst - Math.Sqrt((1 - u) * (worst - best) * (worst - likely));
        return (int)Math.Round(value);
    }
}
