using Drainboard.Domain;
using Drainboard.Domain.Accounts;
using Drainboard.Domain.PotableWater;
using Drainboard.Web.Features.Door;
using Drainboard.Web.Features.Fleet;
using Drainboard.Web.Features.Items;
using Microsoft.EntityFrameworkCore;

namespace Drainboard.Web.Features.PotableWater;

/// <summary>Takes something out that was said to be done, as entered in error.</summary>
public sealed class VoidWaterDeedHandler(OneDoor door, LayoutCatalog layouts)
{
    public Task<Answer> HandleAsync(Call call, string registration, Guid id, ReasonRequest request, CancellationToken stop) =>
        door.ChangeAsync(call, Act.JudgeWater, new { registration, id, request }, async attempt =>
        {
            var key = new WaterDeedId(id);
            var (found, trouble) = await WaterTail.FindAsync(attempt, layouts, registration, Act.JudgeWater);
            if (found is null)
            {
                return trouble!;
            }

            if (await attempt.Db.WaterDeeds.SingleOrDefaultAsync(row => row.Id == key && row.Tail == found.Tail.Id, attempt.Stop) is not { } deed)
            {
                return new Answer.NotFound("There is no such entry.");
            }

            // What access was given back on is not taken away from under it without anything in its place.
            if (deed.Kind == WaterDeedKind.DisinfectedAndFlushed && await attempt.Db.WaterCases.AnyAsync(row => row.Tail == found.Tail.Id && row.ToldAt <= deed.At && row.EndedAt >= deed.At, attempt.Stop)
                && !await attempt.Db.WaterCases.AnyAsync(row => row.Tail == found.Tail.Id && row.EndedAt == null, attempt.Stop))
            {
                return new Refusal("lifted-on-it", "Access was given back on this disinfection. Open the case of the missed follow-up first, so that water is not served, then take it out.");
            }

            switch (deed.Void(request.Reason, attempt.Now))
            {
                case Decision.Refused refused: return refused.Refusal;
                case Decision.AlreadySo already: return attempt.Done(id, () => found.Tail.Version, already.Words);
                case Decision.Done done:
                    attempt.Record(done.Fact);
                    return attempt.Done(id, () => found.Tail.Version, "Taken out; it counts as not done.");
                default: throw new InvalidOperationException("A decision is done, already so or refused.");
            }
        }, stop);
}
