namespace Drainboard.Domain.Reliability;

/// <summary>
/// A fleet of like fixtures and who is truly worse. Each is tested against the rest without it, all tests are adjusted together, and the
/// ranking is by the posterior's 5 % quantile, so that one fault in a short time does not lead the list. In a fleet that differs no more
/// than chance the posterior is the fleet's rate itself.
/// </summary>
public sealed record FleetRates(double Rate, GammaPrior? Prior, IReadOnlyList<FixtureRate> Fixtures)
{
    public const double UsualFalseDiscovery = 0.05;

    /// <exception cref="ArgumentException">No fixture, negative events, or an exposure that is not above zero.</exception>
    public static FleetRates Of(IReadOnlyList<FixtureCount> fixtures, double falseDiscovery = UsualFalseDiscovery)
    {
        if (fixtures.Count == 0 || fixtures.Any(one => one.Events < 0 || !(one.Exposure > 0) || !double.IsFinite(one.Exposure)))
        {
            throw new ArgumentException("A fleet has at least one fixture, and each has an exposure above zero and no negative events.");
        }

        var judge = new FleetJudge(fixtures.GroupBy(one => (one.Events, one.Exposure)).Select(group => (group.Key.Events, group.Key.Exposure, group.Count())));
        var judged = fixtures.Select(one => judge.Of(one.Events, one.Exposure)).ToArray();
        var adjusted = FalseDiscovery.Adjust([.. judged.Select(one => one.PWorse)]);
        return new FleetRates(judge.Rate, judge.Prior, [.. fixtures.Select((one, index) => judged[index].For(one, adjusted[index], falseDiscovery))]);
    }
}
