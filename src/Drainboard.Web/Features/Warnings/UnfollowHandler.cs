using Drainboard.Domain.Accounts;
using Drainboard.Domain.Records;
using Drainboard.Web.Features.Door;
using Microsoft.EntityFrameworkCore;

namespace Drainboard.Web.Features.Warnings;

public sealed class UnfollowHandler(OneDoor door)
{
    public Task<Answer> HandleAsync(Call call, Guid id, CancellationToken stop) =>
        door.ChangeAsync(call, Act.Follow, new { unfollow = id }, async attempt =>
        {
            var me = attempt.Actor.Person;
            var follow = await attempt.Db.Follows.SingleOrDefaultAsync(row => row.Id == id && row.Person == me, attempt.Stop);
            if (follow is null)
            {
                return new Answer.NotFound("You follow no such thing.");
            }

            attempt.Db.Follows.Remove(follow);
            attempt.Record(new Fact(ChainKey.Operator, "follow.ended", id, "Clocks are followed no more."));
            return attempt.Done(id, () => follow.Version, "You are no longer warned of this.");
        }, stop);
}
