namespace Drainboard.Domain.Reliability;

/// <summary>Everybody's standing: each fleet by itself, all tests of all fleets adjusted together, one list.</summary>
public static class Standings
{
    /// <summary>Of those flagged, the share that may be so by chance (our choice; common in engineering).</summary>
    public const double FalseDiscoveryRate = FleetRates.UsualFalseDiscovery;

    /// <summary>The worst first, numbered from 1. Fleets without a fault say nothing and are not counted.</summary>
    public static (IReadOnlyList<Standing> Ranked, int Tested) Judge(IEnumerable<StandingFleet> fleets)
    {
        var found = new List<(StandingSubject Subject, FixtureCount Count, Judged Judged, FleetJudge Fleet)>();
        var tested = 0;
        foreach (var fleet in fleets.Where(fleet => fleet.HasFaults))
        {
            tested += fleet.Tested;
            var judge = fleet.Judge();
            found.AddRange(fleet.Faulty.Select(one => (one.Subject, new FixtureCount("", one.Events, one.Exposure), judge.Of(one.Events, one.Exposure), judge)));
        }

        var adjusted = FalseDiscovery.Adjust([.. found.Select(one => one.Judged.PWorse)], tested);
        var ranked = found.Select((one, index) => new Standing(one.Subject, one.Judged.For(one.Count, adjusted[index], FalseDiscoveryRate), one.Fleet.Rate, one.Fleet.Against(one.Count.Events, one.Count.Exposure)))
            .OrderByDescending(one => one.Excess).ThenBy(one => one.PWorse).ThenBy(one => one.Layout, StringComparer.Ordinal).ThenBy(one => one.Position.Value, StringComparer.Ordinal).ThenBy(one => one.Tail?.Value).ThenBy(one => one.Family).ToArray();
        for (var index = 0; index < ranked.Length; index++)
        {
            ranked[index].Rank = index + 1;
        }

        return (ranked, tested);
    }
}
