using Drainboard.Domain.Accounts;
using Drainboard.Web.Features.Door;
using Microsoft.EntityFrameworkCore;
using NodaTime;

namespace Drainboard.Web.Features.Warnings;

/// <param name="UpTo">When the newest warning that was shown was made: one that came since is not seen yet.</param>
public sealed record SeeWarningsRequest(Instant UpTo);

/// <summary>A person has seen the warnings that were shown.</summary>
public sealed class SeeWarningsHandler(OneDoor door)
{
    public Task<Answer> HandleAsync(Call call, SeeWarningsRequest request, CancellationToken stop) =>
        door.ChangeAsync(call, Act.Follow, request, async attempt =>
        {
            var me = attempt.Actor.Person;
            foreach (var warning in await attempt.Db.Warnings.Where(row => row.Person == me && row.SeenAt == null && row.MadeAt <= request.UpTo).ToArrayAsync(attempt.Stop))
            {
                warning.See(attempt.Now);
            }

            return attempt.Done(me.Value, () => 0, "Seen.");
        }, stop);
}
