using Drainboard.Data;
using Drainboard.Data.Accounts;
using Drainboard.Domain;
using Drainboard.Domain.Accounts;
using Drainboard.Domain.Fleet;
using Drainboard.Domain.PlannedChecks;
using Drainboard.Domain.TurnFit;
using Microsoft.EntityFrameworkCore;
using NodaTime;

namespace Drainboard.Web.Features.Demo;

/// <summary>The invented airline's walk-rounds: six checks of common practice with invented intervals, what was done of them lately, and frost expected at the hub.</summary>
internal sealed class DemoChecks(IDbContextFactory<DrainboardDb> factory, Instant now)
{
    private const string Manual = "Line check sheet LC-1 (invented example)";

    private static readonly (string Code, CheckTerms Terms)[] Checks =
    [
        ("masts", new("Drain masts clean and undamaged", "Drain hole open, no dents, no ice, no streak behind the mast.", FixtureKind.DrainMast, CabinPlace.Outside, 0, 1, Manual, "A heated mast burns: look, never touch. It may drain at any time: stand clear of it.", StayOverMinutes: 40)),
        ("panels", new("Service panels closed", "Caps on and locked, doors flush and latched, nothing dripping.", FixtureKind.ServicePanel, CabinPlace.Outside, 0, 1, Manual)),
        ("streaks", new("No blue or white streaks", "No streaks below drains, panels and doors. Blue is waste, white may be potable water or what is in it.", null, CabinPlace.Outside, 0, 2, Manual, "What streaks is waste until shown otherwise: gloves and eye protection before it is touched.")),
        ("mast-heater", new("Drain mast heater test", "By the manual's own test, at the panel. It passes or it does not: no other way is one.", FixtureKind.DrainMast, CabinPlace.Outside, 21, 6, "Heater test by the manufacturer's manual (invented example)", "Never by touch: a working heater burns. Nobody stands under the mast while it is tested.", BelowCelsius: 8)),
        ("strainers", new("Clean the sink strainer", "Out, looked at, rinsed, seated; what it held is told as a finding if it was blocked.", FixtureKind.Strainer, CabinPlace.Galley, 30, 10, "Work card for strainers (invented example)", "Gloves and eye protection; what is in a drain is not clean. Heaters and brewers beside it are hot.", IsCleaning: true)),
        ("drain-down", new("Drain the water before frost", "Potable tank and lines drained, masts run dry, brewers and heaters empty. Whoever fills it again is told.", null, CabinPlace.Outside, 0, 15, "Cold weather chapter of the manual (invented example)", "Water heaters and brewers off before the water goes. What runs out freezes on the ground: keep it off walkways.", BelowCelsius: 2, StayOverMinutes: 100)),
    ];

    private readonly List<Deed> _deeds = [];

    public async Task SaveAsync(CancellationToken stop)
    {
        await using var db = await factory.CreateDbContextAsync(stop);
        var since = now - Duration.FromDays(45);
        var checks = Checks.Select(one => PlannedCheck.Save(one.Code, one.Terms, false, null, "Marram Air engineering (invented)", since, out var made) is null ? made! : throw new InvalidOperationException(one.Code)).ToArray();
        db.AddRange(checks);
        var cast = new DemoCast(await db.Users.AsNoTracking().OrderBy(person => person.UserName).ToArrayAsync(stop));
        var layouts = await db.Layouts.AsNoTracking().ToDictionaryAsync(layout => layout.Id, stop);
        var turns = (await db.Turns.AsNoTracking().Where(turn => turn.EstimatedArrival < now).ToArrayAsync(stop)).ToLookup(turn => turn.Tail);
        var dice = new Dice(9000);
        foreach (var tail in (await db.Tails.AsNoTracking().ToArrayAsync(stop)).OrderBy(tail => tail.Registration.Value, StringComparer.Ordinal))
        {
            var layout = layouts[tail.Layout];
            List<CheckDone> done = [];
            foreach (var check in checks.Where(check => !check.Terms.IsForCold || check.Terms.EveryDays > 0))
            {
                foreach (var fixture in check.Terms.Kind is { } kind ? layout.Fixtures.Where(fixture => fixture.Kind == kind).Cast<Fixture?>() : [null])
                {
                    var times = check.Terms.EveryDays > 0
                        ? [now - Duration.FromHours(dice.Chance(0.03) ? (24 * check.Terms.EveryDays) + dice.Between(5, 60) : dice.Between(20, (24 * check.Terms.EveryDays) - 10))]
                        : turns[tail.Id].Where(turn => turn.DepartsAt < now && (check.Terms.StayOverMinutes is not { } over || (turn.DepartsAt - turn.ArrivesAt).TotalMinutes > over)).Select(turn => turn.ArrivesAt + Duration.FromMinutes(dice.Between(6, 20))).ToArray();
                    done.AddRange(times.Where(_ => check.Terms.EveryDays > 0 || dice.Chance(0.97)).Select(at => Done(tail, layout, check, fixture, at, cast.Any(Role.Technician, dice))));
                }
            }

            foreach (var alike in done.GroupBy(row => (row.Check, row.Position)))
            {
                CheckDone.MarkNewest(alike);
            }

            db.AddRange(done);
        }

        var hub = await db.Stations.AsNoTracking().SingleAsync(station => station.Code == StationCode.Parse("QQMB"), stop);
        var lead = cast.Any(Role.ShiftLead, dice);
        foreach (var (celsius, until) in new[] { (3, (Instant?)null), (-6, now + Duration.FromHours(14)) })
        {
            var told = StandTemperature.Tell(new StandTemperatureId(NewId.At(now)), hub, celsius, now - Duration.FromMinutes(20), until, lead, now, out var made);
            Note(told, lead, now);
            db.Add(made!);
        }

        await db.SaveAsync(new Writing(Actor.Installation, now, [.. _deeds.OrderBy(deed => deed.At)]), stop);
    }

    private CheckDone Done(Tail tail, CabinLayout layout, PlannedCheck check, Fixture? fixture, Instant at, Actor by)
    {
        Note(CheckDone.Record(new CheckDoneId(NewId.At(at)), tail, layout, check, fixture?.Position, CheckOutcome.Good, null, at, by, at, out var made), by, at);
        return made!;
    }

    private void Note(Decision decision, Actor by, Instant at) => _deeds.Add(new Deed(((Decision.Done)decision).Fact, by, at));
}
