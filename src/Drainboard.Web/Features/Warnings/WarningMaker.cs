using Drainboard.Data;
using Drainboard.Data.Records;
using Drainboard.Domain;
using Drainboard.Domain.Accounts;
using Drainboard.Domain.Defects;
using Drainboard.Domain.Deferrals;
using Drainboard.Domain.Warnings;
using Drainboard.Web.Features.Deferrals;
using Drainboard.Web.Features.Live;
using Drainboard.Web.Shell;
using Microsoft.EntityFrameworkCore;
using NodaTime;

namespace Drainboard.Web.Features.Warnings;

/// <summary>Looks at every clock and every follow, and makes the warnings whose time has come. Each is made once, by whichever process is first.</summary>
public sealed class WarningMaker(IDbContextFactory<DrainboardDb> factory, ClocksQuery clocks, ChangeFeed feed, IClock clock)
{
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
        var marks = await db.Tails.AsNoTracking().ToDictionaryAsync(tail => tail.Id, tail => tail.Registration.Value, stop);
        var due = follows.SelectMany(follow => Due(follow, view, follow.Tail is { } tail ? marks.GetValueOrDefault(tail) : null, now)).ToArray();
        var deferrals = due.Select(warning => warning.Deferral).Distinct().ToArray();
        var known = (await db.Warnings.AsNoTracking().Where(warning => deferrals.Contains(warning.Deferral)).Select(warning => new { warning.Person, warning.Deferral, warning.LeadHours, warning.DueAt }).ToArrayAsync(stop)).ToHashSet();
        var made = 0;
        // Of two follows that warn of the same, the one that mails rules.
        foreach (var warning in due.OrderByDescending(one => one.ByMail).DistinctBy(one => new { one.Person, one.Deferral, one.LeadHours, one.DueAt }).Where(one => !known.Contains(new { one.Person, one.Deferral, one.LeadHours, one.DueAt })))
        {
            made += await SaveAsync(warning, now, stop) ? 1 : 0;
        }

        if (made > 0)
        {
            feed.Ring();
        }

        return made;
    }

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
