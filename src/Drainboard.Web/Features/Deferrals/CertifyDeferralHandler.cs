using Drainboard.Domain.Accounts;
using Drainboard.Domain.Defects;
using Drainboard.Web.Features.Door;
using Drainboard.Web.Features.Items;

namespace Drainboard.Web.Features.Deferrals;

public sealed record CertifyDeferralRequest;

public sealed class CertifyDeferralHandler(ItemDoor door)
{
    public Task<Answer> HandleAsync(Call call, DefectId id, CertifyDeferralRequest request, CancellationToken stop) =>
        door.ChangeAsync(call, Act.CertifyDeferral, id, request, item => item.Deferral is { } deferral
            ? deferral.Certify(item.Defect, item.Flights, item.Attempt.Actor, item.Attempt.Now)
            : NoDeferral.Refusal, stop);
}
