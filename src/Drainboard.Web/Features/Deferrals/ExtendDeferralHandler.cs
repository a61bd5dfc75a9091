using Drainboard.Domain.Accounts;
using Drainboard.Domain.Defects;
using Drainboard.Web.Features.Door;
using Drainboard.Web.Features.Items;

namespace Drainboard.Web.Features.Deferrals;

/// <param name="Approval">The reference of the authority's approval, where the policy asks for one beforehand.</param>
public sealed record ExtendDeferralRequest(int Days, string Reason, string? Approval = null);

public sealed class ExtendDeferralHandler(ItemDoor door)
{
    public Task<Answer> HandleAsync(Call call, DefectId id, ExtendDeferralRequest request, CancellationToken stop) =>
        door.ChangeAsync(call, Act.ExtendDeferral, id, request, item => item.Deferral is { } deferral
            ? deferral.Extend(item.Defect, request.Days, request.Reason, request.Approval ?? "", item.Flights, item.Attempt.Actor, item.Attempt.Now)
            : NoDeferral.Refusal, stop);
}
