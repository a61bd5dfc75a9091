using Drainboard.Domain.Accounts;
using Drainboard.Domain.Defects;
using Drainboard.Web.Features.Defects;
using Drainboard.Web.Features.Door;
using Drainboard.Web.Features.Items;

namespace Drainboard.Web.Features.Deferrals;

public sealed class EndDeferralHandler(ItemDoor door)
{
    public Task<Answer> HandleAsync(Call call, DefectId id, ReasonRequest request, CancellationToken stop) =>
        door.ChangeAsync(call, Act.EndDeferral, id, request, item => item.Deferral is { } deferral
            ? deferral.End(item.Defect, request.Reason, item.Attempt.Now)
            : NoDeferral.Refusal, stop);
}
