using Drainboard.Data;
using Drainboard.Domain;
using Drainboard.Domain.Defects;
using Drainboard.Web.Features.Live;
using Microsoft.EntityFrameworkCore;
using NodaTime;

namespace Drainboard.Web.Features.Network;

/// <summary>Every running deferral over the next days, and the plan that was given out.</summary>
public sealed class NetworkQuery(IDbContextFactory<DrainboardDb> factory, NetworkDrafts drafts, IClock clock)
{
    private readonly SharedReading<NetworkDraft> _shared = new(factory, clock);

    public async Task<(NetworkDraft? Draft, Refusal? Refusal)> DraftAsync(NetworkWish wish, CancellationToken stop)
    {
        if (wish.IsWhatIf || NetworkDrafts.WhyNot(wish) is not null)
        {
            await using var db = await factory.CreateDbContextAsync(stop);
            return await drafts.ReadAsync(db, wish, clock.GetCurrentInstant(), stop);
        }

        return (await _shared.GetAsync(wish, async (db, now) => (await drafts.ReadAsync(db, wish, now, CancellationToken.None)).Draft!, stop), null);
    }

    public async Task<NetworkItemView?> ItemAsync(DefectId id, int days, CancellationToken stop)
    {
        await using var db = await factory.CreateDbContextAsync(stop);
        var (draft, _) = await DraftAsync(new NetworkWish(days), stop);
        return draft is null ? null : await drafts.ItemAsync(db, draft, id, stop);
    }

    /// <returns>Null where none was given out.</returns>
    public async Task<FleetPlanView?> CurrentAsync(CancellationToken stop)
    {
        await using var db = await factory.CreateDbContextAsync(stop);
        if (await db.FleetPlans.AsNoTracking().SingleOrDefaultAsync(stop) is not { } plan)
        {
            return null;
        }

        var now = clock.GetCurrentInstant();
        var (defects, ids) = (plan.Content.Items.Select(item => new DefectId(item.Defect)).ToArray(), plan.Content.Items.Select(item => new Domain.Turns.TurnId(item.Turn)).ToArray());
        var carried = (await db.Deferrals.AsNoTracking().Where(deferral => defects.Contains(deferral.Defect) && deferral.BeganAt != null && deferral.EndedAt == null).Select(deferral => deferral.Defect).ToArrayAsync(stop)).Select(id => id.Value).ToHashSet();
        var turns = await (from turn in db.Turns.AsNoTracking() where ids.Contains(turn.Id) join tail in db.Tails.AsNoTracking() on turn.Tail equals tail.Id select new { turn, tail.Registration }).ToDictionaryAsync(one => one.turn.Id.Value, stop);

        // Times as they are now; a stay that another tail makes, or at another station, is not the one that was planned.
        var stays = plan.Content.Items.Select(item => (Item: item, Stay: turns.GetValueOrDefault(item.Turn) is { } one && one.Registration.Value == item.Tail && one.turn.Station.Value == item.Station ? one.turn : null)).ToArray();
        return new FleetPlanView(
            plan.Until, plan.Content with { Items = [.. stays.Select(one => one.Stay is { } stay ? one.Item with { ArrivesAt = stay.ArrivesAt, DepartsAt = stay.DepartsAt } : one.Item)] },
            [.. stays.Select(one => new FleetPlanProgress(one.Item.Defect, !carried.Contains(one.Item.Defect) ? PlannedState.Done : one.Stay?.IsOver(now) == false ? PlannedState.Ahead : PlannedState.Missed))], plan.GivenByName, plan.GivenAt, plan.Version);
    }
}
