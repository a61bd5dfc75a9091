using Drainboard.Data;
using Drainboard.Data.Records;
using Drainboard.Domain;
using Drainboard.Domain.Accounts;
using Drainboard.Domain.Defects;
using Drainboard.Domain.Deferrals;
using Drainboard.Domain.Fleet;
using Drainboard.Domain.Turns;
using Drainboard.Domain.Warnings;
using Drainboard.Web.Features.Deferrals;
using Drainboard.Web.Features.Fleet;
using Drainboard.Web.Features.Items;
using Drainboard.Web.Features.Live;
using Drainboard.Web.Shell;
using Microsoft.EntityFrameworkCore;
using NodaTime;

namespace Drainboard.Web.Features.Warnings;

/// <summary>Looks at every clock, every new report and every follow, and makes the warnings whose time has come. Each is made once, by whichever process is first.</summary>
public sealed class WarningMaker(IDbContextFactory<DrainboardDb> factory, ClocksQuery clocks, LayoutCatalog layouts, ChangeFeed feed, IClock clock)
{
    // What is older was told, or is on the Board by now.
    private static readonly Duration LookBack = Duration.FromDays(2);

    /// <returns>How many were made.</returns>
    public async Task<int> RunAsync(CancellationToken stop)
    {
        await using var db = await factory.CreateDbContextAsync(stop);
        var closed = (await db.Users.AsNoTracking().Where(person => person.IsDisabled).Select(person => person.Id).ToArrayAsync(stop)).ToHashSet();
        var follows = (await db.Follows.AsNoTracking().ToArrayAsync(stop)).Where(follow => !closed.Contains(follow.Person.Value)).ToArray();
        if (follows.Length == 0)
        {
            return 0;
        }

        var now = clock.GetCurrentInstant();
        var view = await clocks.ReadAsync(stop);
        var tails = await db.Tails.AsNoTracking().ToDictionaryAsync(tail => tail.Id, stop);
        var due = follows.Where(follow => follow.LeadHours.Count > 0).SelectMany(follow => Due(follow, view, follow.Tail is { } tail ? tails.GetValueOrDefault(tail)?.Registration.Value : null, now)).ToArray();
        var deferrals = due.Select(warning => warning.Deferral).Distinct().ToArray();
        var known = (await db.Warnings.AsNoTracking().Where(warning => deferrals.Contains(warning.Deferral)).Select(warning => new { warning.Person, warning.Deferral, warning.LeadHours, warning.DueAt }).ToArrayAsync(stop)).ToHashSet();
        // Of two follows that warn of the same, the one that mails rules.
        var fresh = due.OrderByDescending(one => one.ByMail).DistinctBy(one => new { one.Person, one.Deferral, one.LeadHours, one.DueAt }).Where(one => !known.Contains(new { one.Person, one.Deferral, one.LeadHours, one.DueAt }));
        var made = 0;
        foreach (var warning in fresh.Concat(await NewReportsAsync(db, [.. follows.Where(follow => follow.Reports)], tails, now, stop)))
        {
            made += await SaveAsync(warning, now, stop) ? 1 : 0;
        }

        if (made > 0)
        {
            feed.Ring();
        }

        return made;
    }

    /// <summary>What came in lately and nobody was told of yet. A person is not told of their own report, nor of what came before they followed.</summary>
    private async Task<IReadOnlyList<Warning>> NewReportsAsync(DrainboardDb db, Follow[] follows, Dictionary<TailId, Tail> tails, Instant now, CancellationToken stop)
    {
        if (follows.Length == 0)
        {
            return [];
        }

        var since = now - LookBack;
        var reports = await db.Reports.AsNoTracking().Where(report => report.ReceivedAt > since && db.Defects.Any(defect => defect.Id == report.Defect && defect.State != DefectState.Closed)).OrderBy(report => report.ReceivedAt).ToArrayAsync(stop);
        if (reports.Length == 0)
        {
            return [];
        }

        var ids = reports.Select(report => (ReportId?)report.Id).ToArray();
        var known = (await db.Warnings.AsNoTracking().Where(warning => ids.Contains(warning.Report)).Select(warning => new { warning.Person, warning.Report }).ToArrayAsync(stop)).ToHashSet();
        var about = reports.Select(report => report.Tail).Distinct().ToArray();
        var until = now + LookBack;
        var turns = (await db.Turns.AsNoTracking().Where(turn => about.Contains(turn.Tail) && turn.EstimatedDeparture > now - LookBack && turn.EstimatedArrival < until).ToArrayAsync(stop)).ToLookup(turn => turn.Tail);
        var made = new List<Warning>();
        foreach (var report in reports)
        {
            // Where it was going when the report came in: the next station is not told again and again as the aircraft moves on.
            var station = Whereabouts.CurrentOrNext([.. turns[report.Tail]], report.ReceivedAt)?.Station;
            foreach (var follow in follows.OrderByDescending(follow => follow.ByMail).Where(follow => follow.Person != report.Reporter && follow.At <= report.ReceivedAt && (follow.Tail is null || follow.Tail == report.Tail) && (follow.Station is null || follow.Station == station)).DistinctBy(follow => follow.Person).Where(follow => !known.Contains(new { follow.Person, Report = (ReportId?)report.Id })))
            {
                made.Add(new Warning(NewId.At(now), follow.Person, report, Words(report, tails[report.Tail], await layouts.GetAsync(tails[report.Tail].Layout, stop)), follow.ByMail, now));
            }
        }

        return made;
    }

    private static string Words(Report report, Tail tail, CabinLayout layout) =>
        $"{tail.Registration} {ItemDoor.FixtureAt(layout, report.Position).Name}: {report.Symptom.Words().ToLowerInvariant()}{(report.Leak == LeakAnswer.Leaking ? $", leaking {report.LeakWhere}" : "")}. Reported {(report.Phase == FlightPhase.InFlight ? "in flight, " : "")}seen {Times.Utc(report.SeenAt)}.";

    private static IEnumerable<Warning> Due(Follow follow, ClocksView view, string? tail, Instant now) =>
        from line in view.Lines
        where line.Clock is not null && (follow.Tail is null || line.Tail == tail) && (follow.Station is not { } station || line.Station == station.Value || line.Next.Any(visit => visit.Station == station.Value))
        let lead = follow.LeadAt(line.Clock!.DueAt, now)
        where lead is not null
        select new Warning(NewId.At(now), follow.Person, new DefectId(line.Defect), new DeferralId(line.Deferral), lead.Value, line.Clock!.DueAt, Words(line, now), follow.ByMail, now);

    private static string Words(ClockLine line, Instant now)
    {
        var due = line.Clock!.DueAt;
        var when = due <= now ? $"lapsed at {Times.Utc(due)}" : $"lapses in {Times.Left(due - now)}, at {Times.Utc(due)}";
        var next = due <= now ? "The aircraft does not depart with it; the repair may go on."
            : line.LastVisit is { } last ? $"Last stay that can take it: {last.Station}, {(last.ArrivesAt <= now ? "now" : Times.Utc(last.ArrivesAt))}."
            : "No planned stay can take it in time.";
        return $"{line.Tail} {line.FixtureName}, {line.BasisCode}{(line.Category is { } category ? $" cat {category}" : "")}: {when}. {next}";
    }

    private async Task<bool> SaveAsync(Warning warning, Instant now, CancellationToken stop)
    {
        await using var db = await factory.CreateDbContextAsync(stop);
        db.Warnings.Add(warning);
        db.Changes.Add(new Change("warning", warning.Person.Value, now));
        try
        {
            await db.SaveAsync(new Writing(Actor.Installation, now, []), stop);
            return true;
        }
        catch (DbUpdateException failure) when (db.IsDuplicateKey(failure))
        {
            // Another process was first.
            return false;
        }
    }
}
