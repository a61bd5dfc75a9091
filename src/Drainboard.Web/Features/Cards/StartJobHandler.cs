using Drainboard.Domain;
using Drainboard.Domain.Accounts;
using Drainboard.Domain.Cards;
using Drainboard.Domain.Defects;
using Drainboard.Web.Features.Door;
using Drainboard.Web.Features.Items;
using Microsoft.EntityFrameworkCore;

namespace Drainboard.Web.Features.Cards;

/// <param name="Id">The job's id, made on the device; the idempotency key.</param>
/// <param name="Card">The card's code.</param>
public sealed record StartJobRequest(Guid Id, string Card);

public sealed class StartJobHandler(ItemDoor door)
{
    public Task<Answer> HandleAsync(Call call, DefectId id, StartJobRequest request, CancellationToken stop) =>
        door.ChangeAsync(call, Act.DoJob, id, request, async item =>
        {
            var (db, abort) = (item.Attempt.Db, item.Attempt.Stop);
            var card = await db.WorkCards.AsNoTracking().SingleOrDefaultAsync(card => card.Code == request.Card && card.IsCurrent, abort);
            if (card is null)
            {
                return new Refusal("no-such-card", $"There is no work card \"{request.Card}\" now. Open the item again and choose one.");
            }

            var running = await db.Jobs.Where(job => job.Defect == id && job.EndedAt == null).FirstOrDefaultAsync(abort);
            var decision = Job.Start(new JobId(request.Id), item.Defect, item.Fixture, card, running, item.Attempt.Actor, item.Attempt.Now, out var made);
            if (made is not null)
            {
                db.Add(made);
            }

            return decision;
        }, stop);
}
