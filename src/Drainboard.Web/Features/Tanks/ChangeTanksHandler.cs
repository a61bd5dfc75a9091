using Drainboard.Domain.Accounts;
using Drainboard.Domain.Tanks;
using Drainboard.Web.Features.Door;
using Drainboard.Web.Features.SetUp;

namespace Drainboard.Web.Features.Tanks;

public sealed class ChangeTanksHandler(OneDoor door)
{
    public Task<Answer> HandleAsync(Call call, TankTerms terms, CancellationToken stop) =>
        ChangeTerms.AtAsync(door, call, Act.ChangeTanks, terms, installation => installation.Tanks, (installation, changed) => installation.ChangeTanks(changed), "tanks.changed", "What tank balances go by was changed", "Saved. Balances are worked out by it from now on.", stop);
}
