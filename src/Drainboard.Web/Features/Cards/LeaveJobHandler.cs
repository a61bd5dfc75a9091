using Drainboard.Domain;
using Drainboard.Domain.Accounts;
using Drainboard.Domain.Defects;
using Drainboard.Web.Features.Door;
using Drainboard.Web.Features.Items;

namespace Drainboard.Web.Features.Cards;

/// <param name="Id">Made on the device; the idempotency key.</param>
public sealed record LeaveJobRequest(Guid Id, string Reason);

public sealed class LeaveJobHandler(ItemDoor door)
{
    public Task<Answer> HandleAsync(Call call, DefectId id, LeaveJobRequest request, CancellationToken stop) =>
        door.ChangeAsync(call, Act.DoJob, id, request, async item =>
            await OpenJob.RunningOnAsync(item.Attempt.Db, id, item.Attempt.Stop) is { } open ? open.Job.Leave(item.Defect, request.Reason, item.Attempt.Now)
            : Lifecycle.WhyNot(item.Defect.State, Act.DoJob) ?? NoJob.Refusal, stop);
}
