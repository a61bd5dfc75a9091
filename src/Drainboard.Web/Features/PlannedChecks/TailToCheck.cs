using Drainboard.Data;
using Drainboard.Domain.Accounts;
using Drainboard.Domain.Fleet;
using Drainboard.Domain.PlannedChecks;
using Drainboard.Domain.Turns;
using Drainboard.Web.Features.Door;
using Drainboard.Web.Features.Items;
using Microsoft.EntityFrameworkCore;
using NodaTime;

namespace Drainboard.Web.Features.PlannedChecks;

/// <summary>What doing a check and taking it back have in common.</summary>
internal static class TailToCheck
{
    /// <summary>The tail, where this person may check it: at the station that has it, or had it when it was done; else why not.</summary>
    /// <param name="at">When it was done.</param>
    public static async Task<(Tail? Tail, Answer? Trouble)> FindAsync(Attempt attempt, string registration, Instant at)
    {
        if (!Registration.TryParse(registration, out var mark) || await attempt.Db.Tails.AsNoTracking().SingleOrDefaultAsync(row => row.Registration == mark, attempt.Stop) is not { } tail)
        {
            return (null, new Answer.NotFound($"There is no tail \"{registration}\"."));
        }

        var now = Whereabouts.ReachableAt([.. await ItemDoor.TurnsAroundAsync(attempt.Db, tail.Id, attempt.Now, attempt.Stop)], attempt.Now);
        var then = at < attempt.Now ? Whereabouts.ReachableAt([.. await ItemDoor.TurnsAroundAsync(attempt.Db, tail.Id, at, attempt.Stop)], at) : [];
        return Permissions.WhyNot(attempt.Actor, Act.DoCheck, mark, [.. now, .. then]) is { } no ? (null, new Answer.NotAllowed(no)) : (tail, null);
    }

    /// <summary>Marks anew which of those alike is the newest, this one among them.</summary>
    public static async Task MarkNewestAsync(DrainboardDb db, CheckDone about, CancellationToken stop)
    {
        var alike = await db.ChecksDone.Where(row => row.Tail == about.Tail && row.Check == about.Check && row.Position == about.Position && row.IsNewest && row.Id != about.Id).ToListAsync(stop);
        if (about.TakenBackAt is not null && await db.ChecksDone.Where(row => row.Tail == about.Tail && row.Check == about.Check && row.Position == about.Position && row.TakenBackAt == null && row.Outcome != CheckOutcome.NotReached && row.Id != about.Id).OrderByDescending(row => row.At).ThenByDescending(row => row.RecordedAt).FirstOrDefaultAsync(stop) is { } before)
        {
            alike.Add(before);
        }

        CheckDone.MarkNewest(alike.Append(about).Distinct());
    }
}
