using Drainboard.Data;
using Drainboard.Data.Accounts;
using Drainboard.Domain.Deferrals;
using Drainboard.Domain.Fleet;
using Drainboard.Web.Features.Deferrals;
using Drainboard.Web.Features.Fleet;
using Drainboard.Web.Features.Items;
using Ical.Net;
using Ical.Net.CalendarComponents;
using Ical.Net.DataTypes;
using Ical.Net.Serialization;
using Microsoft.EntityFrameworkCore;
using NodaTime;
using Duration = NodaTime.Duration;

namespace Drainboard.Web.Features.Warnings;

/// <summary>
/// The due times as a calendar (RFC 5545). An event keeps its UID for life; its SEQUENCE grows with every move of the clock; a deferral that
/// has ended stays fourteen days as cancelled, so that subscribers take it away.
/// </summary>
public sealed class CalendarQuery(IDbContextFactory<DrainboardDb> factory, ClocksQuery clocks, LayoutCatalog layouts, IClock clock)
{
    private static readonly Duration Cancelled = Duration.FromDays(14);
    private static readonly Duration EventLength = Duration.FromMinutes(15);

    /// <returns>Null where the secret opens nothing: unknown, revoked, or its person's account is closed.</returns>
    public async Task<string?> ReadAsync(string secret, CancellationToken stop)
    {
        await using var db = await factory.CreateDbContextAsync(stop);
        var hash = ApiKey.HashOf(secret);
        var feed = await db.CalendarFeeds.AsNoTracking().SingleOrDefaultAsync(row => row.SecretHash == hash, stop);
        if (feed is not { RevokedAt: null } || !await db.Users.AnyAsync(person => person.Id == feed.Person.Value && !person.IsDisabled, stop))
        {
            return null;
        }

        var calendar = new Calendar { ProductId = "-//Drainboard//Clocks//EN", Method = CalendarMethods.Publish };
        calendar.AddProperty("X-WR-CALNAME", feed.Station is { } station ? $"Deferrals, {station}" : "Deferrals, fleet");
        var lines = (await clocks.ReadAsync(stop)).Lines;
        var running = new ClocksFilter(feed.Station?.Value).Of(lines).Where(line => line.Clock is not null).ToArray();
        var ids = running.Select(line => new DeferralId(line.Deferral)).ToArray();
        var stored = await db.Deferrals.AsNoTracking().Where(row => ids.Contains(row.Id)).ToDictionaryAsync(row => row.Id.Value, stop);
        foreach (var line in running.Where(line => stored.ContainsKey(line.Deferral)))
        {
            calendar.Events.Add(Running(line, stored[line.Deferral], clock.GetCurrentInstant()));
        }

        await AddCancelledAsync(db, calendar, feed.Station, stop);
        return new CalendarSerializer().SerializeToString(calendar);
    }

    private async Task AddCancelledAsync(DrainboardDb db, Calendar calendar, StationCode? station, CancellationToken stop)
    {
        var now = clock.GetCurrentInstant();
        var (since, until) = (now - Cancelled, now + Cancelled);
        var seen = station is { } code ? await db.Turns.AsNoTracking().Where(turn => turn.Station == code && turn.EstimatedDeparture > since && turn.EstimatedArrival < until).Select(turn => turn.Tail).Distinct().ToArrayAsync(stop) : null;
        var ended = await (from deferral in db.Deferrals.AsNoTracking()
                           where deferral.BeganAt != null && (deferral.EndedAt >= since || (deferral.EndedAt == null && deferral.DueAt == null && deferral.ClockRevision > 1))
                           join defect in db.Defects.AsNoTracking() on deferral.Defect equals defect.Id
                           join tail in db.Tails.AsNoTracking() on deferral.Tail equals tail.Id
                           orderby deferral.DueAt
                           select new { deferral, defect.Position, tail.Registration, tail.Layout }).ToArrayAsync(stop);
        foreach (var row in ended.Where(row => seen is null || seen.Contains(row.deferral.Tail)))
        {
            var fixture = ItemDoor.FixtureAt(await layouts.GetAsync(row.Layout, stop), row.Position);
            var cancelled = Event(row.deferral, $"{row.Registration} {fixture.Name}: {(row.deferral.EndedAt is null ? "no end in the flights known" : "no longer deferred")}", row.deferral.EndReason, now);
            cancelled.Status = EventStatus.Cancelled;
            calendar.Events.Add(cancelled);
        }
    }

    private static CalendarEvent Running(ClockLine line, Deferral deferral, Instant now)
    {
        var last = line.LastVisit is { } visit ? $"Last stay that can take it: {visit.Station}, {Shell.Times.Utc(visit.ArrivesAt)}." : "No planned stay can take it in time.";
        var made = Event(deferral, $"{line.Tail} {line.FixtureName}: deferral lapses", $"{line.BasisCode} rev {line.Revision}{(line.Category is { } category ? $", cat {category}" : "")}. {last} Working copy: the aircraft log governs.", now);
        made.Status = EventStatus.Confirmed;
        return made;
    }

    // It ends when the clock lapses, and begins a quarter of an hour before, so that it shows on every calendar.
    private static CalendarEvent Event(Deferral deferral, string summary, string description, Instant now) => new()
    {
        Uid = $"{deferral.Id.Value}@drainboard",
        Sequence = deferral.ClockRevision,
        DtStamp = At(now),
        Start = At((deferral.DueAt ?? deferral.BeganAt!.Value) - EventLength),
        End = At(deferral.DueAt ?? deferral.BeganAt!.Value),
        Summary = summary,
        Description = description,
    };

    private static CalDateTime At(Instant at) => new(at.ToDateTimeUtc(), "UTC");
}
