using Drainboard.Domain.Accounts;
using Drainboard.Web.Features.Door;
using Microsoft.EntityFrameworkCore;

namespace Drainboard.Web.Features.Warnings;

/// <summary>A person has seen the warnings made until now.</summary>
public sealed class SeeWarningsHandler(OneDoor door)
{
    public Task<Answer> HandleAsync(Call call, CancellationToken stop) =>
        door.ChangeAsync(call, Act.Follow, new { seen = true }, async attempt =>
        {
            var me = attempt.Actor.Person;
            foreach (var warning in await attempt.Db.Warnings.Where(row => row.Person == me && row.SeenAt == null).ToArrayAsync(attempt.Stop))
            {
                warning.See(attempt.Now);
            }

            return attempt.Done(me.Value, () => 0, "Seen.");
        }, stop);
}
