using Drainboard.Domain.Accounts;
using Drainboard.Domain.Defects;
using Drainboard.Web.Features.Door;
using Drainboard.Web.Features.Items;

namespace Drainboard.Web.Features.Deferrals;

public sealed record AuthoriseDeferralRequest(string? Reference = null);

public sealed class AuthoriseDeferralHandler(ItemDoor door)
{
    public Task<Answer> HandleAsync(Call call, DefectId id, AuthoriseDeferralRequest request, CancellationToken stop) =>
        door.ChangeAsync(call, Act.AuthoriseDeferral, id, request, item => item.Deferral is { } deferral
            ? deferral.Authorise(item.Defect, request.Reference ?? "", item.Flights, item.Attempt.Actor, item.Attempt.Now)
            : NoDeferral.Refusal, stop);
}
