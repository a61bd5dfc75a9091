using Drainboard.Domain.Accounts;
using Drainboard.Domain.Defects;
using Drainboard.Web.Features.Door;
using Drainboard.Web.Features.Items;

namespace Drainboard.Web.Features.Deferrals;

/// <param name="Condition">Its place in the deferral's list, from 0.</param>
public sealed record DoConditionRequest(int Condition);

public sealed class DoConditionHandler(ItemDoor door)
{
    public Task<Answer> HandleAsync(Call call, DefectId id, DoConditionRequest request, CancellationToken stop) =>
        door.ChangeAsync(call, Act.DoCondition, id, request, item => item.Deferral is { } deferral
            ? deferral.DoCondition(item.Defect, request.Condition, item.Attempt.Actor, item.Attempt.Now)
            : NoDeferral.Refusal, stop);
}
