using Drainboard.Domain.Accounts;
using Drainboard.Domain.Records;
using Drainboard.Web.Features.Door;

namespace Drainboard.Web.Features.Accounts;

public sealed class RevokeKeyHandler(OneDoor door)
{
    public Task<Answer> HandleAsync(Call call, Guid id, CancellationToken stop) =>
        door.ChangeAsync(call, Act.ManageKeys, new { id }, async attempt =>
        {
            var key = await attempt.Db.ApiKeys.FindAsync([id], attempt.Stop);
            if (key is null)
            {
                return new Answer.NotFound("There is no such key.");
            }

            key.Revoke(attempt.Now);
            attempt.Record(new Fact(ChainKey.Operator, "key.revoked", id, "An API key was revoked."));
            return attempt.Done(id, () => key.Version, "Key revoked.");
        }, stop);
}
