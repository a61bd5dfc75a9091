using Drainboard.Domain;
using Drainboard.Domain.Accounts;
using Drainboard.Domain.Fleet;
using Drainboard.Domain.Tanks;
using Drainboard.Domain.Turns;
using Drainboard.Web.Features.Door;
using Drainboard.Web.Features.Fleet;
using Drainboard.Web.Features.Items;
using Microsoft.EntityFrameworkCore;

namespace Drainboard.Web.Features.Tanks;

/// <summary>The door for what is done at a service panel: finds the tail, checks where it is, and records what the rule makes of it.</summary>
public sealed class TankDoor(OneDoor door, LayoutCatalog layouts)
{
    /// <param name="decide">Gets the tail and what its tanks hold, and answers with the row to store.</param>
    public Task<Answer> RecordAsync(Call call, string registration, Guid id, object wish, Func<Attempt, Tail, LayoutTanks?, (Decision Decision, object? Made)> decide, CancellationToken stop) =>
        door.ChangeAsync(call, Act.RecordServicing, new { registration, wish }, async attempt =>
        {
            if (!Registration.TryParse(registration, out var mark) || await attempt.Db.Tails.AsNoTracking().SingleOrDefaultAsync(tail => tail.Registration == mark, attempt.Stop) is not { } tail)
            {
                return new Answer.NotFound($"There is no tail \"{registration}\".");
            }

            var turns = await ItemDoor.TurnsAroundAsync(attempt.Db, tail.Id, attempt.Now, attempt.Stop);
            if (Permissions.WhyNot(attempt.Actor, Act.RecordServicing, mark, Whereabouts.ReachableAt([.. turns], attempt.Now)) is { } no)
            {
                return new Answer.NotAllowed(no);
            }

            var code = (await layouts.GetAsync(tail.Layout, attempt.Stop)).Code;
            var tanks = await attempt.Db.LayoutTanks.AsNoTracking().SingleOrDefaultAsync(row => row.Layout == code, attempt.Stop);
            switch (decide(attempt, tail, tanks))
            {
                case (Decision.Refused refused, _): return refused.Refusal;
                case (Decision.Done done, { } made):
                    attempt.Db.Add(made);
                    attempt.Record(done.Fact);
                    return attempt.Done(id, () => tail.Version, done.Fact.Words);
                default: throw new InvalidOperationException("A service is recorded or refused.");
            }
        }, stop);
}
