using Drainboard.Data;
using Drainboard.Domain.Accounts;
using Drainboard.Domain.Defects;
using Drainboard.Domain.Fleet;
using Drainboard.Domain.ShiftPlans;
using Microsoft.EntityFrameworkCore;
using NodaTime;

namespace Drainboard.Web.Features.ShiftPlans;

/// <summary>What a shift could do, the plan that was given out, and one technician's list from it.</summary>
public sealed class ShiftPlanQuery(IDbContextFactory<DrainboardDb> factory, ShiftDrafts drafts, IClock clock)
{
    public static readonly Duration UsualLength = Duration.FromHours(8);

    /// <returns>Null where there is no such station.</returns>
    public async Task<ShiftDraft?> DraftAsync(StationCode code, Instant? from, Instant? to, double chance, CancellationToken stop)
    {
        await using var db = await factory.CreateDbContextAsync(stop);
        var station = await db.Stations.AsNoTracking().SingleOrDefaultAsync(station => station.Code == code, stop);
        if (station is null)
        {
            return null;
        }

        var now = clock.GetCurrentInstant();
        var begins = from ?? Instant.FromUnixTimeSeconds(now.ToUnixTimeSeconds() / 60 * 60);
        return await drafts.ReadAsync(db, station, begins, to ?? begins + UsualLength, Math.Clamp(chance, 0.5, 0.95), now, now, stop);
    }

    /// <summary>The plan of the shift under way, or of the next one; null where none was given out.</summary>
    public async Task<ShiftPlanView?> CurrentAsync(StationCode code, CancellationToken stop)
    {
        await using var db = await factory.CreateDbContextAsync(stop);
        return await FindAsync(db, code, clock.GetCurrentInstant(), stop) is { } plan ? await ViewAsync(db, plan, stop) : null;
    }

    /// <summary>What one person has to do, of every plan that is not over.</summary>
    public async Task<IReadOnlyList<(PlannedItem Item, PlannedProgress Progress, string Station, string Zone)>> MineAsync(PersonId person, CancellationToken stop)
    {
        await using var db = await factory.CreateDbContextAsync(stop);
        var now = clock.GetCurrentInstant();
        var zones = await db.Stations.AsNoTracking().ToDictionaryAsync(station => station.Code, station => station.Zone, stop);
        var mine = new List<(PlannedItem, PlannedProgress, string, string)>();
        foreach (var plan in await db.ShiftPlans.AsNoTracking().Where(plan => plan.To > now).OrderBy(plan => plan.From).ToArrayAsync(stop))
        {
            var view = await ViewAsync(db, plan, stop);
            mine.AddRange(view.Content.Items.Where(item => item.Person == person.Value).Select(item => (item, view.Progress.Single(one => one.Defect == item.Defect), plan.Station.Value, zones[plan.Station])));
        }

        return mine;
    }

    internal static Task<StationPlan?> FindAsync(DrainboardDb db, StationCode code, Instant now, CancellationToken stop) =>
        db.ShiftPlans.Where(plan => plan.Station == code && plan.To > now).OrderBy(plan => plan.From).FirstOrDefaultAsync(stop);

    private static async Task<ShiftPlanView> ViewAsync(DrainboardDb db, StationPlan plan, CancellationToken stop)
    {
        var ids = plan.Content.Items.Select(item => new DefectId(item.Defect)).ToArray();
        var states = await db.Defects.AsNoTracking().Where(defect => ids.Contains(defect.Id)).Select(defect => new { defect.Id, defect.State, defect.Holder }).ToDictionaryAsync(defect => defect.Id, stop);
        return new ShiftPlanView(plan.Id.Value, plan.Station.Value, plan.From, plan.To, plan.Content, [.. ids.Select(id => new PlannedProgress(id.Value, states.GetValueOrDefault(id)?.State.Words() ?? "gone", states.GetValueOrDefault(id)?.Holder?.Name))], plan.GivenByName, plan.GivenAt, plan.Version);
    }
}
