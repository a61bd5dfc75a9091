using Drainboard.Domain.Accounts;
using Drainboard.Domain.Lavatories;
using Drainboard.Web.Features.Door;
using Drainboard.Web.Features.SetUp;

namespace Drainboard.Web.Features.Lavatories;

public sealed class ChangeWaitingHandler(OneDoor door)
{
    public Task<Answer> HandleAsync(Call call, LavatoryTerms terms, CancellationToken stop) =>
        ChangeTerms.AtAsync(door, call, Act.ChangeWaiting, terms, installation => installation.Lavatories, (installation, changed) => installation.ChangeLavatories(changed), "waiting.changed", "What waiting for a lavatory goes by was changed", "Saved. Waiting is worked out by it from now on.", stop);
}
