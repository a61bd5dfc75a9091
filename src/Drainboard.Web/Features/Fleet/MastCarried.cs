using Drainboard.Data;
using Drainboard.Domain.Fleet;
using Drainboard.Web.Features.Deferrals;
using Microsoft.EntityFrameworkCore;
using NodaTime;

namespace Drainboard.Web.Features.Fleet;

/// <summary>A drain mast that is carried, or proposed to be: what keeps water from freezing on it, whoever looks at the aircraft next.</summary>
public sealed record MastCarried(Guid Defect, string Name, bool Running, IReadOnlyList<ConditionView> Conditions)
{
    internal static async Task<IReadOnlyList<MastCarried>> ReadAsync(DrainboardDb db, TailId tail, CabinLayout layout, IEnumerable<ItemLine> items, Instant now, CancellationToken stop)
    {
        var masts = items.Where(item => item.Carried is not null && Position.TryParse(item.Position, out var at) && layout.Find(at)?.Kind == FixtureKind.DrainMast).ToDictionary(item => item.Id);
        if (masts.Count == 0)
        {
            return [];
        }

        var deferrals = await db.Deferrals.AsNoTracking().Where(deferral => deferral.Tail == tail && deferral.EndedAt == null).ToArrayAsync(stop);
        return [.. deferrals.OrderBy(deferral => deferral.Defect.Value).Where(deferral => masts.ContainsKey(deferral.Defect.Value)).Select(deferral => new MastCarried(deferral.Defect.Value, masts[deferral.Defect.Value].FixtureName, deferral.IsRunning, DeferralView.Of(deferral, now).Conditions))];
    }
}
