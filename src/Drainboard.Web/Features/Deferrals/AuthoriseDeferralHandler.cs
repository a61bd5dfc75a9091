using Drainboard.Domain.Accounts;
using Drainboard.Domain.Defects;
using Drainboard.Web.Features.Door;
using Drainboard.Web.Features.Items;

namespace Drainboard.Web.Features.Deferrals;

public sealed record AuthoriseDeferralRequest(string? Reference = null);

public sealed class AuthoriseDeferralHandler(ItemDoor door)
{
    public Task<Answer> HandleAsync(Call call, DefectId id, AuthoriseDeferralRequest request, CancellationToken stop) =>
        door.ChangeAsync(call, Act.AuthoriseDeferral, id, request, item => item.Deferral is not { } deferral ? NoDeferral.Refusal
            : item.Disturbed.WhyNotDefer() is { } disturbed ? disturbed
            : deferral.Authorise(item.Defect, request.Reference ?? "", item.Flights, item.Attempt.Actor, item.Attempt.Now), stop);
}
