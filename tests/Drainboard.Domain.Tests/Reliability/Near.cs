namespace Drainboard.Domain.Tests.Reliability;

/// <summary>Equal to a relative tolerance.</summary>
internal static class Near
{
    public static void Equal(double expected, double actual, double tolerance = 1e-9) =>
        Assert.True(Math.Abs(expected - actual) <= tolerance * Math.Max(Math.Abs(expected), double.Epsilon / tolerance), $"Expected {expected:R}, was {actual:R}.");
}
