namespace Drainboard.Domain.Pours;

/// <summary>
/// The shape of a basin, as far as emptying it needs: the integral of its surface over the square root of the head, from one depth to another.
/// Depths are metres above the drain, heads are depth plus a water-filled tailpipe below it.
/// </summary>
public abstract record Basin
{
    private Basin()
    {
    }

    /// <summary>Walls that stand upright.</summary>
    /// <param name="AreaSquareMetres">Surface, at any depth.</param>
    public sealed record Prism(double AreaSquareMetres) : Basin;

    /// <summary>A bowl; depths are at most its radius.</summary>
    public sealed record Hemisphere(double RadiusMetres) : Basin;

    /// <summary>Straight walls that open upwards: radius at the bottom, and metres of radius for each metre of depth.</summary>
    public sealed record Frustum(double BottomRadiusMetres, double Slope) : Basin;

    /// <summary>The integral of A(h) / sqrt(h + L) in m^2.5, in closed form: with s = sqrt(h + L) it is a polynomial in s.</summary>
    public double Emptying(double fromDepth, double toDepth, double tailpipe)
    {
        var (high, low) = (Math.Sqrt(fromDepth + tailpipe), Math.Sqrt(toDepth + tailpipe));
        return this switch
        {
            Prism prism => 2 * prism.AreaSquareMetres * (high - low),
            Hemisphere bowl => Math.PI * (Bowl(bowl.RadiusMetres, tailpipe, high) - Bowl(bowl.RadiusMetres, tailpipe, low)),
            Frustum cone => Math.PI * (Cone(cone.BottomRadiusMetres - (cone.Slope * tailpipe), cone.Slope, high) - Cone(cone.BottomRadiusMetres - (cone.Slope * tailpipe), cone.Slope, low)),
            _ => throw new InvalidOperationException($"Unknown basin {GetType().Name}."),
        };
    }

    /// <summary>The water surface at a depth, in square metres.</summary>
    public double SurfaceAt(double depth) => this switch
    {
        Prism prism => prism.AreaSquareMetres,
        Hemisphere bowl => Math.PI * ((2 * bowl.RadiusMetres * depth) - (depth * depth)),
        Frustum cone => Math.PI * Math.Pow(cone.BottomRadiusMetres + (cone.Slope * depth), 2),
        _ => throw new InvalidOperationException($"Unknown basin {GetType().Name}."),
    };

    private static double Bowl(double radius, double tailpipe, double s) =>
        2 * ((2 * radius * ((s * s * s / 3) - (tailpipe * s))) - ((Math.Pow(s, 5) / 5) - (2 * tailpipe * s * s * s / 3) + (tailpipe * tailpipe * s)));

    private static double Cone(double radius, double slope, double s) =>
        2 * ((radius * radius * s) + (2 * radius * slope * s * s * s / 3) + (slope * slope * Math.Pow(s, 5) / 5));
}
