using Drainboard.Domain;
using Drainboard.Domain.Accounts;
using Drainboard.Domain.Defects;
using Drainboard.Web.Features.Door;
using Drainboard.Web.Features.Items;
using Drainboard.Web.Features.Lavatories;

namespace Drainboard.Web.Features.Deferrals;

public sealed record AuthoriseDeferralRequest(string? Reference = null);

public sealed class AuthoriseDeferralHandler(ItemDoor door)
{
    public Task<Answer> HandleAsync(Call call, DefectId id, AuthoriseDeferralRequest request, CancellationToken stop) =>
        door.ChangeAsync(call, Act.AuthoriseDeferral, id, request, async item => item.Deferral is not { } deferral ? (Decision)NoDeferral.Refusal
            : item.Disturbed.WhyNotDefer() is { } disturbed ? disturbed
            : await NextSector.WhyNotWithoutAsync(item, item.Attempt.Stop) is { } few ? few
            : deferral.Authorise(item.Defect, request.Reference ?? "", item.Flights, item.Attempt.Actor, item.Attempt.Now), stop);
}
