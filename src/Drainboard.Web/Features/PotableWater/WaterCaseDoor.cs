using Drainboard.Domain;
using Drainboard.Domain.Accounts;
using Drainboard.Domain.PotableWater;
using Drainboard.Web.Features.Door;
using Drainboard.Web.Features.Fleet;
using Microsoft.EntityFrameworkCore;

namespace Drainboard.Web.Features.PotableWater;

/// <summary>The door for everything done to one water case.</summary>
public sealed class WaterCaseDoor(OneDoor door, LayoutCatalog layouts)
{
    public Task<Answer> ChangeAsync(Call call, Act act, string registration, Guid id, object wish, Func<Attempt, WaterCase, Task<Decision>> decide, CancellationToken stop) =>
        door.ChangeAsync(call, act, new { registration, id, wish }, async attempt =>
        {
            var key = new WaterCaseId(id);
            var (found, trouble) = await WaterTail.FindAsync(attempt, layouts, registration, act);
            if (found is null)
            {
                return trouble!;
            }

            if (await attempt.Db.WaterCases.SingleOrDefaultAsync(row => row.Id == key && row.Tail == found.Tail.Id, attempt.Stop) is not { } one)
            {
                return new Answer.NotFound("There is no such water case.");
            }

            if (call.SeenVersion is { } seen && seen != one.Version)
            {
                return new Answer.Stale(one.Version);
            }

            switch (await decide(attempt, one))
            {
                case Decision.Refused refused: return refused.Refusal;
                case Decision.AlreadySo already: return attempt.Done(id, () => one.Version, already.Words);
                case Decision.Done done:
                    attempt.Record(done.Fact);
                    return attempt.Done(id, () => one.Version, done.Fact.Words);
                default: throw new InvalidOperationException("A decision is done, already so or refused.");
            }
        }, stop);
}
