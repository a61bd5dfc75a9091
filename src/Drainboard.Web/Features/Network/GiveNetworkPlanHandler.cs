using Drainboard.Domain;
using Drainboard.Domain.Accounts;
using Drainboard.Domain.Network;
using Drainboard.Web.Features.Door;
using Microsoft.EntityFrameworkCore;

namespace Drainboard.Web.Features.Network;

/// <param name="Id">Made on the device; the idempotency key.</param>
public sealed record GiveNetworkPlanRequest(Guid Id, NetworkWish Wish, IReadOnlyList<PlannedFor> Assigned);

/// <summary>Gives a plan of the network out: it is checked against the fleet as it stands now, whoever made it.</summary>
public sealed class GiveNetworkPlanHandler(OneDoor door, NetworkDrafts drafts)
{
    private const int LargestPlan = 2_000_000;

    public Task<Answer> HandleAsync(Call call, GiveNetworkPlanRequest request, CancellationToken stop) =>
        door.ChangeAsync(call, Act.PlanNetwork, request, attempt => GiveAsync(call, attempt, request), stop, LargestPlan);

    private async Task<Answer> GiveAsync(Call call, Attempt attempt, GiveNetworkPlanRequest request)
    {
        var (db, stop) = (attempt.Db, attempt.Stop);
        if (request.Wish.Swap is not null)
        {
            return new Refusal("swap-is-a-question", "Two tails are swapped in this plan, and not in what they fly. Change their turns and flights, then plan again.");
        }

        if (request.Assigned.Any(one => one is null) || request.Assigned.Count == 0)
        {
            return new Refusal("empty-plan", "Nothing is planned in it. Plan the network first.");
        }

        var plan = await db.FleetPlans.SingleOrDefaultAsync(stop);
        if (call.SeenVersion is { } seen && seen != (plan?.Version ?? Call.SawNone))
        {
            return new Answer.Stale(plan?.Version ?? 0);
        }

        var (draft, refusal) = await drafts.ReadAsync(db, request.Wish, attempt.Now, stop, NetworkDrafts.LookedAtFor);
        if (draft is null)
        {
            return refusal!;
        }

        var own = await db.Stations.AsNoTracking().ToDictionaryAsync(station => station.Code.Value, station => station.CarriedMinutes, StringComparer.OrdinalIgnoreCase, stop);
        if ((request.Wish.Minutes ?? []).FirstOrDefault(one => one.Minutes > own[one.Station]) is { } more)
        {
            return new Refusal("minutes-are-a-question", $"{more.Station} has {own[more.Station]} min a day in this plan, and not {more.Minutes}. Change the station's minutes first (import of stations), then plan again.");
        }

        var assigned = request.Assigned.Select(one => new NetworkAssignment(one.Defect.ToString(), one.Turn.ToString())).ToArray();
        if (NetworkCheck.Faults(draft.Problem, assigned) is [var fault, ..])
        {
            return new Refusal("plan-does-not-hold", $"Something moved since this was planned: {Names(draft, fault)} Plan it again.");
        }

        if (plan is null)
        {
            db.Add(plan = new FleetPlan());
        }

        var content = NetworkContent.Of(draft, NetworkPlan.Of(draft.Problem, assigned.ToDictionary(one => one.Item, one => one.Stay)));
        attempt.Record(plan.Give(draft.Until, content, attempt.Actor, attempt.Now));
        return attempt.Done(plan.Id.Value, () => plan.Version, "Given out. Clocks show it, and each station's shift plan weighs it.");
    }

    private static string Names(NetworkDraft draft, string words)
    {
        foreach (var line in draft.Lines)
        {
            words = words.Replace(line.Defect.ToString(), $"{line.Tail} {line.Fixture}", StringComparison.Ordinal);
            words = line.Stays.Aggregate(words, (text, stay) => text.Replace(stay.Turn.ToString(), $"{line.Tail} at {stay.Visit.Station}", StringComparison.Ordinal));
        }

        return words;
    }
}
