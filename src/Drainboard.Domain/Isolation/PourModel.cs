namespace Drainboard.Domain.Isolation;

/// <summary>
/// How a fixture answers to blockages below it (noisy-OR, Pearl 1988): it runs free with probability (1 - leak) times (1 - link) for each
/// blocked segment on its path. <see cref="Link"/> is the chance that a blocked segment makes it slow, <see cref="Leak"/> that it is slow
/// for no blockage in the model.
/// </summary>
public sealed record PourModel(double Link, double Leak)
{
    public static PourModel Default { get; } = new(0.95, 0.01);

    /// <param name="blocked">How many segments on its path are blocked.</param>
    public double Slow(int blocked) => 1 - ((1 - Leak) * Math.Pow(1 - Link, blocked));

    public double Likelihood(PourResult result, int blocked) => result == PourResult.Slow ? Slow(blocked) : 1 - Slow(blocked);
}
