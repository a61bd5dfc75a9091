using Drainboard.Domain.Accounts;
using Drainboard.Domain.Isolation;
using Drainboard.Web.Features.Door;
using Drainboard.Web.Features.SetUp;

namespace Drainboard.Web.Features.Isolation;

public sealed class ChangeAdviceHandler(OneDoor door)
{
    public Task<Answer> HandleAsync(Call call, AdviceTerms terms, CancellationToken stop) =>
        ChangeTerms.AtAsync(door, call, Act.ChangeAdvice, terms, installation => installation.Advice, (installation, changed) => installation.ChangeAdvice(changed), "advice.changed", "What advice goes by was changed", "Saved. Advice goes by it from now on.", stop);
}
