namespace Drainboard.Domain.Pours;

/// <summary>
/// What a timed drain test says (Torricelli; a ground test of a gravity drain only: in flight cabin pressure drives a drain mast, and a vacuum
/// drain is no orifice under its own head). Areas are geometric: the discharge coefficient is applied once.
/// </summary>
public static class DrainTest
{
    /// <summary>Standard gravity, m/s2 (CGPM 1901).</summary>
    public const double StandardGravity = 9.80665;

    /// <summary>A thin sharp edge: 0.60 to 0.62 (Unwin, Encyclopaedia Britannica 1911).</summary>
    public const double SharpEdge = 0.6;

    /// <summary>Seconds from one depth to another through an opening of so many square metres.</summary>
    public static double Seconds(Basin basin, double fromDepth, double toDepth, double areaSquareMetres, double discharge = SharpEdge, double tailpipe = 0, double gravity = StandardGravity) =>
        basin.Emptying(fromDepth, toDepth, tailpipe) / (discharge * areaSquareMetres * Math.Sqrt(2 * gravity));

    /// <summary>The opening, in square metres, that lets it empty in so many seconds.</summary>
    public static double Area(Basin basin, double fromDepth, double toDepth, double seconds, double discharge = SharpEdge, double tailpipe = 0, double gravity = StandardGravity) =>
        basin.Emptying(fromDepth, toDepth, tailpipe) / (discharge * seconds * Math.Sqrt(2 * gravity));

    /// <summary>How open a drain is against its clean reference, by the times alone: same basin, same marks, so that geometry cancels.</summary>
    public static double Openness(double referenceSeconds, double seconds) => referenceSeconds / seconds;

    /// <summary>One standard uncertainty of the openness from those of both times (GUM, first order: relative variances of a quotient add).</summary>
    public static double OpennessUncertainty(double reference, double referenceUncertainty, double time, double timeUncertainty) =>
        Openness(reference, time) * Math.Sqrt(Math.Pow(referenceUncertainty / reference, 2) + Math.Pow(timeUncertainty / time, 2));

    /// <summary>
    /// The strainer's own opening from the whole and the clean drain behind it (openings in series: the squares of their inverses add); null
    /// when the whole lets through as much as the drain alone, so that the strainer is not what limits.
    /// </summary>
    public static double? InSeries(double whole, double drain) =>
        whole >= drain ? null : 1 / Math.Sqrt((1 / (whole * whole)) - (1 / (drain * drain)));
}
