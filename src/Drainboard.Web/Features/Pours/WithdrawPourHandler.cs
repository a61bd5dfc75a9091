using Drainboard.Domain;
using Drainboard.Domain.Accounts;
using Drainboard.Domain.Pours;
using Drainboard.Domain.Turns;
using Drainboard.Web.Features.Door;
using Drainboard.Web.Features.Items;
using Microsoft.EntityFrameworkCore;

namespace Drainboard.Web.Features.Pours;

public sealed class WithdrawPourHandler(OneDoor door)
{
    public Task<Answer> HandleAsync(Call call, Guid id, ReasonRequest request, CancellationToken stop) =>
        door.ChangeAsync(call, Act.WithdrawPour, new { id, request }, async attempt =>
        {
            var pour = await attempt.Db.Pours.SingleOrDefaultAsync(row => row.Id == new PourId(id), attempt.Stop);
            var tail = pour is null ? null : await attempt.Db.Tails.AsNoTracking().SingleAsync(row => row.Id == pour.Tail, attempt.Stop);
            var turns = tail is null ? [] : await ItemDoor.TurnsAroundAsync(attempt.Db, tail.Id, attempt.Now, attempt.Stop);
            // Whoever may time a pour at this aircraft may take one back.
            if (tail is not null && Permissions.WhyNot(attempt.Actor, Act.RecordPour, tail.Registration, Whereabouts.ReachableAt([.. turns], attempt.Now)) is { } no)
            {
                return new Answer.NotAllowed(no);
            }

            switch (pour?.Withdraw(request.Reason, attempt.Actor, attempt.Now))
            {
                case Decision.Done done:
                    attempt.Record(done.Fact);
                    return attempt.Done(id, () => pour.Version, "Withdrawn. It stays on record and counts for nothing.");
                case Decision.Refused refused:
                    return refused.Refusal;
                default:
                    return new Answer.NotFound("There is no such pour.");
            }
        }, stop);
}
