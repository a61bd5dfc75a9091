using Drainboard.Domain.Accounts;
using Drainboard.Domain.TurnFit;
using Drainboard.Web.Features.Door;
using Drainboard.Web.Features.SetUp;

namespace Drainboard.Web.Features.TurnFit;

public sealed class ChangeFitHandler(OneDoor door, FleetJobs jobs)
{
    public async Task<Answer> HandleAsync(Call call, FitTerms terms, CancellationToken stop)
    {
        var answer = await ChangeTerms.AtAsync(door, call, Act.ChangeFit, terms, installation => installation.Fit, (installation, changed) => installation.ChangeFit(changed), "fit.changed", "What turn fit goes by was changed", "Saved. Turn fit goes by it from now on, on other servers within ten minutes.", stop);
        jobs.Forget();
        return answer;
    }
}
