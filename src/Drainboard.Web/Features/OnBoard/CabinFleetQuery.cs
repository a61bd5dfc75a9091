using Drainboard.Data;
using Drainboard.Domain.Accounts;
using Drainboard.Domain.Defects;
using Drainboard.Domain.Fleet;
using Microsoft.EntityFrameworkCore;
using NodaTime;

namespace Drainboard.Web.Features.OnBoard;

/// <summary>Every cabin that the asker may report on, once for each layout: what a device keeps to work without a connection.</summary>
public sealed record CabinFleet(Instant AsOf, IReadOnlyList<CabinPlan> Layouts, IReadOnlyList<CabinTail> Tails);

public sealed record CabinPlan(string Key, string Name, IReadOnlyList<CabinArea> Areas);

/// <param name="Note">What the engineer tells the crew about this part of the cabin; empty where nothing in particular.</param>
public sealed record CabinArea(string Name, string Note, IReadOnlyList<CabinFixture> Fixtures);

/// <param name="Symptoms">What makes sense to say of it.</param>
/// <param name="Along">Percent of the cabin's length from the nose; <paramref name="Across"/> of its width from the left: a drawing's measure.</param>
public sealed record CabinFixture(string Position, string Name, FixtureKind Kind, int Along, int Across, IReadOnlyList<Symptom> Symptoms);

/// <param name="Here">It is at the device's station or comes there next; at a device without one, of no tail.</param>
public sealed record CabinTail(string Registration, string Layout, bool Here);

public sealed class CabinFleetQuery(IDbContextFactory<DrainboardDb> factory, IClock clock)
{
    private static readonly Duration LooksAhead = Duration.FromHours(12);

    public async Task<CabinFleet> ReadAsync(Actor actor, CancellationToken stop)
    {
        await using var db = await factory.CreateDbContextAsync(stop);
        var tails = (await db.Tails.AsNoTracking().OrderBy(tail => tail.Registration).ToArrayAsync(stop)).Where(tail => actor.OnlyTail is not { } only || tail.Registration == only).ToArray();
        var used = tails.Select(tail => tail.Layout).Distinct().ToArray();
        var layouts = await db.Layouts.AsNoTracking().Where(layout => used.Contains(layout.Id)).OrderBy(layout => layout.Code).ThenBy(layout => layout.Version).ToArrayAsync(stop);
        var notes = await db.CrewNotes.AsNoTracking().ToDictionaryAsync(note => (note.Layout, note.Area), note => note.Words, stop);
        var keys = layouts.ToDictionary(layout => layout.Id, KeyOf);
        var here = await HereAsync(db, actor, stop);
        return new CabinFleet(clock.GetCurrentInstant(), [.. layouts.Select(layout => Plan(layout, notes))], [.. tails.Select(tail => new CabinTail(tail.Registration.Value, keys[tail.Layout], here.Contains(tail.Id)))]);
    }

    /// <summary>The tails that the people at a station's device most likely mean.</summary>
    private async Task<HashSet<TailId>> HereAsync(DrainboardDb db, Actor actor, CancellationToken stop)
    {
        if (actor.Device is null || actor.Stations.IsEvery)
        {
            return [];
        }

        var (now, codes) = (clock.GetCurrentInstant(), actor.Stations.Codes.ToArray());
        var until = now + LooksAhead;
        return [.. await db.Turns.AsNoTracking().Where(turn => codes.Contains(turn.Station) && turn.EstimatedDeparture > now && turn.EstimatedArrival < until).Select(turn => turn.Tail).Distinct().ToArrayAsync(stop)];
    }

    private static string KeyOf(CabinLayout layout) => $"{layout.Code}/{layout.Version}";

    private static CabinPlan Plan(CabinLayout layout, Dictionary<(string Layout, string Area), string> notes) => new(KeyOf(layout), layout.Name,
    [
        .. layout.Fixtures.Where(fixture => fixture.Kind.IsUsedOnBoard()).OrderBy(fixture => fixture.Along).ThenBy(fixture => fixture.Across).GroupBy(fixture => fixture.Area)
            .Select(area => new CabinArea(area.Key, notes.GetValueOrDefault((layout.Code, area.Key), ""), [.. area.Select(fixture => new CabinFixture(fixture.Position.Value, fixture.Name, fixture.Kind, fixture.Along, fixture.Across, Symptoms.At(fixture.Kind)))])),
    ]);
}
