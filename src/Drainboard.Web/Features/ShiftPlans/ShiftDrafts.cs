using Drainboard.Data;
using Drainboard.Domain.Accounts;
using Drainboard.Domain.Defects;
using Drainboard.Domain.Deferrals;
using Drainboard.Domain.Fleet;
using Drainboard.Domain.ShiftPlans;
using Drainboard.Domain.TurnFit;
using Drainboard.Domain.Turns;
using Drainboard.Web.Features.Deferrals;
using Drainboard.Web.Features.Fleet;
using Drainboard.Web.Features.Items;
using Drainboard.Web.Features.TurnFit;
using Microsoft.EntityFrameworkCore;
using NodaTime;

namespace Drainboard.Web.Features.ShiftPlans;

/// <summary>Gathers what a station's shift could do: who is there, which aircraft, which items, and in which windows.</summary>
public sealed class ShiftDrafts(LayoutCatalog layouts, FleetJobs jobs)
{
    private static readonly Role[] Hands = [Role.Technician, Role.CertifyingTechnician, Role.ContractTechnician];

    /// <param name="opens">No work begins earlier.</param>
    internal async Task<ShiftDraft> ReadAsync(DrainboardDb db, Station station, Instant from, Instant to, double chance, Instant opens, Instant now, CancellationToken stop)
    {
        var book = await jobs.GetAsync(stop);
        var people = (await db.Users.AsNoTracking().ToArrayAsync(stop)).Where(person => !person.IsDisabled && person.Stations.Contains(station.Code.Value) && person.Roles.Any(Hands.Contains)).OrderBy(person => person.Name, StringComparer.Ordinal).Select(person => person.AsActor()).ToArray();
        var zone = DateTimeZoneProviders.Tzdb[station.Zone];
        var since = from - Whereabouts.LongestDelay;
        var turns = (await db.Turns.AsNoTracking().Where(turn => turn.Station == station.Code && turn.EstimatedDeparture > since && turn.EstimatedArrival < to).ToArrayAsync(stop)).Where(turn => !turn.IsOver(now)).GroupBy(turn => turn.Tail).Select(tail => tail.MinBy(turn => turn.ArrivesAt)!)
            .Select(turn => Visit.Of(turn, station, zone, now, book.Terms)).Where(visit => visit.DepartsAt > from).OrderBy(visit => visit.DepartsAt).ToArray();
        var ids = turns.Select(visit => visit.Turn.Tail).ToArray();
        var tails = await db.Tails.AsNoTracking().Where(tail => ids.Contains(tail.Id)).ToDictionaryAsync(tail => tail.Id, stop);
        var defects = (await db.Defects.AsNoTracking().Where(defect => ids.Contains(defect.Tail) && defect.State != DefectState.Closed).ToArrayAsync(stop)).ToLookup(defect => defect.Tail);
        var carried = defects.SelectMany(tail => tail).Select(defect => defect.Deferral).OfType<DeferralId>().ToArray();
        var deferrals = await db.Deferrals.AsNoTracking().Where(deferral => carried.Contains(deferral.Id)).ToDictionaryAsync(deferral => deferral.Defect, stop);
        var progress = await WorkProgress.ReadAsync(db, ids, [.. defects.SelectMany(tail => tail).Where(defect => defect.State == DefectState.WorkDone).Select(defect => defect.Id)], now, stop);
        var (plans, _, _) = await VisitPlans.ReadAsync(db, ids, book.Terms, now, stop);
        var planned = (await db.FleetPlans.AsNoTracking().SingleOrDefaultAsync(stop))?.Content.Items.ToDictionary(item => item.Defect, item => item.Turn) ?? [];
        var items = new List<ShiftItem>();
        foreach (var visit in turns)
        {
            var tail = tails[visit.Turn.Tail];
            var cabin = await layouts.GetAsync(tail.Layout, stop);
            foreach (var defect in defects[tail.Id].OrderBy(defect => defect.Number))
            {
                var fixture = ItemDoor.FixtureAt(cabin, defect.Position);
                var work = book.Work(cabin.Code, fixture, defect.Symptom.Family(), progress.GetValueOrDefault(defect.Id, Progress.None));
                var due = deferrals.GetValueOrDefault(defect.Id) is { IsRunning: true, DueAt: { } at } ? at : (Instant?)null;
                var outlook = ClockOutlook.Of(due, book.Need(cabin.Code, fixture, defect.Symptom.Family()), plans.GetValueOrDefault(tail.Id, VisitPlan.Empty), now);
                var kind = cabin.Fixtures.Where(other => other.Kind == fixture.Kind).Select(other => other.Position).ToHashSet();
                var weight = ItemWeight.Of(new ItemFacts(fixture.Kind, defect.State, defect.Leak == LeakAnswer.Leaking, due is { } end ? (end - now).TotalHours : null, outlook.LastVisit?.Turn.Id == visit.Turn.Id, planned.GetValueOrDefault(defect.Id.Value) == visit.Turn.Id.Value, defect.Repeat is not null, defects[tail.Id].Select(other => other.Position).Where(kind.Contains).Distinct().Count(), kind.Count));
                var minutes = Math.Max(1, (int)Math.Ceiling(work.Quantile(chance)));
                var window = Window(visit, CabinPlaces.Of(fixture.Kind), Instant.Max(from, opens), to, book.Terms);
                var needed = Abilities.Needed(fixture.Kind);
                items.Add(new ShiftItem(
                    defect.Id.Value, defect.Number, tail.Registration.Value, visit.Turn.Stand, fixture.Name, defect.Symptom, defect.State, minutes, weight.Value, weight.Reasons, window.From, window.To, visit.DepartsAt,
                    $"{tail.Registration} {(fixture.Access.Length > 0 ? fixture.Access : fixture.Position.Value)}", [.. people.Where(person => !Covers(person, fixture.Kind, cabin.Code, station.Code)).Select(person => person.Person.Value)], defect.Holder?.Person.Value,
                    (visit.Abilities & needed) != needed ? $"{station.Code} cannot do this kind of work." : window.To <= window.From ? "Its place cannot be worked in this shift." : null) { Work = work });
            }
        }

        return new ShiftDraft(
            station.Code.Value, station.Name, station.Zone, now, from, to, [.. people.Select(person => new ShiftTechnician(person.Person.Value, person.Name, person.Authorisation?.Number ?? ""))],
            [.. turns.Select(visit => new ShiftTurn(visit.Turn.Id.Value, tails[visit.Turn.Tail].Registration.Value, visit.Turn.Stand, visit.ArrivesAt, visit.DepartsAt, visit.Turn.OnBlocks is not null, [.. visit.Blocks.Select(block => new BlockView(block.Activity, block.Activity.Words(), block.From, block.To))], defects[visit.Turn.Tail].Count()))], items);
    }

    /// <summary>The longest stretch at the place inside the shift, less what the papers and the call take at its end.</summary>
    private static (Instant From, Instant To) Window(Visit visit, CabinPlace place, Instant from, Instant to, FitTerms terms)
    {
        var end = Instant.Min(to, visit.DepartsAt - Duration.FromSeconds(60 * (terms.PaperworkMinutes + terms.ControlCallMinutes)));
        return visit.Workable(place).Select(free => (From: Instant.Max(free.From, from), To: Instant.Min(free.To, end))).DefaultIfEmpty((From: from, To: from)).MaxBy(free => free.To - free.From);
    }

    private static bool Covers(Actor person, FixtureKind kind, string layout, StationCode station) =>
        person.Authorisation is not { } own || own.Limits.WhyNot(own.Number, new SigningPlace(DateTimeZone.Utc, station, layout, kind, true)) is null;
}
