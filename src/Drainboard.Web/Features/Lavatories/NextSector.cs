using System.Globalization;
using Drainboard.Data;
using Drainboard.Domain;
using Drainboard.Domain.Fleet;
using Drainboard.Domain.Lavatories;
using Drainboard.Domain.Turns;
using Drainboard.Web.Features.Items;
using Drainboard.Web.Features.Turns;

namespace Drainboard.Web.Features.Lavatories;

/// <summary>What an operator's minimum of toilets says of the next sector.</summary>
internal static class NextSector
{
    /// <summary>Why one toilet more may not be carried out of service into the next sector that is known; null: it may.</summary>
    public static async Task<Refusal?> WhyNotWithoutAsync(Item item, CancellationToken stop)
    {
        if (item.Fixture.Kind != FixtureKind.Toilet || item.Installation.ToiletMinimums.Count == 0)
        {
            return null;
        }

        var (db, now) = (item.Attempt.Db, item.Attempt.Now);
        var ahead = await Flights.AheadAsync(db, item.Tail.Id, now, 1, stop);
        var down = await ToiletsQuery.OutAsync(db, item.Tail.Id, item.Layout, stop);
        down.Add(item.Fixture.Position);
        return ahead is [var next, ..] && Broken(item.Installation.ToiletMinimums, item.Layout, next, ToiletCount.Of(item.Layout, down)) is ({ Forbids: true }, var words)
            ? new Refusal("toilet-minimum", $"{words} Rectify it, or control plans another aircraft.")
            : null;
    }

    /// <summary>The rule that a sector breaks, in a sentence that says by how much; null where it breaks none.</summary>
    public static (ToiletMinimum Rule, string Words)? Broken(IReadOnlyList<ToiletMinimum> rules, CabinLayout cabin, Sector sector, ToiletCount toilets) =>
        ToiletMinimum.Broken(rules, cabin.Code, (sector.OnBlock - sector.OffBlock).TotalHours, toilets) is { } rule
            ? (rule, $"{sector.From} to {sector.To} takes {(sector.OnBlock - sector.OffBlock).TotalHours.ToString("0.##", CultureInfo.InvariantCulture)} h with {toilets.InService} of {toilets.Installed} toilets in service{(toilets is { AccessibleInstalled: > 0, AccessibleInService: 0 } && rule.Accessible ? ", no accessible one among them" : "")}; the operator asks for {rule.Words}.")
            : null;
}
