using Drainboard.Domain.Accounts;
using Drainboard.Domain.Records;
using Drainboard.Web.Features.Door;
using Microsoft.EntityFrameworkCore;

namespace Drainboard.Web.Features.Warnings;

public sealed class RevokeFeedHandler(OneDoor door)
{
    public Task<Answer> HandleAsync(Call call, Guid id, CancellationToken stop) =>
        door.ChangeAsync(call, Act.Follow, new { revoke = id }, async attempt =>
        {
            var me = attempt.Actor.Person;
            var any = attempt.Actor.Roles.Contains(Role.Administrator);
            var feed = await attempt.Db.CalendarFeeds.SingleOrDefaultAsync(row => row.Id == id && (any || row.Person == me), attempt.Stop);
            if (feed is null)
            {
                return new Answer.NotFound("You have no such calendar address.");
            }

            feed.Revoke(attempt.Now);
            attempt.Record(new Fact(ChainKey.Operator, "calendar.revoked", id, "A calendar address was revoked."));
            return attempt.Done(id, () => feed.Version, "The address is dead.");
        }, stop);
}
