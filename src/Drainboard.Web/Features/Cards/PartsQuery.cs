using Drainboard.Data;
using Drainboard.Domain.Cards;
using Drainboard.Domain.Fleet;
using Drainboard.Web.Features.Fleet;
using Drainboard.Web.Features.Items;
using Microsoft.EntityFrameworkCore;
using NodaTime;

namespace Drainboard.Web.Features.Cards;

/// <summary>A part of the fleet that waits or runs on its clock.</summary>
public sealed record FleetPart(string Tail, string FixtureName, Guid Defect, PartView Part);

/// <summary>Parts fitted without a release certificate, and parts awaited, over the fleet or for one tail; those that end first at the top.</summary>
public sealed class PartsQuery(IDbContextFactory<DrainboardDb> factory, LayoutCatalog layouts, IClock clock)
{
    public async Task<IReadOnlyList<FleetPart>> ReadAsync(Registration? only, CancellationToken stop)
    {
        await using var db = await factory.CreateDbContextAsync(stop);
        var tails = await db.Tails.AsNoTracking().Where(tail => only == null || tail.Registration == only).ToDictionaryAsync(tail => tail.Id, stop);
        var ids = tails.Keys.ToArray();
        var parts = await db.Parts.AsNoTracking().Where(part => ids.Contains(part.Tail) && (part.State == PartState.Awaited || (part.State == PartState.Fitted && part.NeedsCertificate && part.Certificate == ""))).ToArrayAsync(stop);
        var clocks = await PartClocks.ReadAsync(db, parts, clock.GetCurrentInstant(), stop);
        var found = new List<FleetPart>();
        foreach (var part in parts.OrderBy(part => clocks.GetValueOrDefault(part.Id) is null).ThenBy(part => clocks.GetValueOrDefault(part.Id)?.DueAt ?? Instant.MaxValue).ThenBy(part => part.At))
        {
            var tail = tails[part.Tail];
            found.Add(new FleetPart(tail.Registration.Value, ItemDoor.FixtureAt(await layouts.GetAsync(tail.Layout, stop), part.Position).Name, part.Defect.Value, PartView.Of(part, clocks.GetValueOrDefault(part.Id))));
        }

        return found;
    }
}
