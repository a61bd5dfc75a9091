using Drainboard.Domain;
using Drainboard.Domain.Accounts;
using Drainboard.Domain.Defects;
using Drainboard.Web.Features.Accounts;
using Drainboard.Web.Features.Door;
using Drainboard.Web.Features.Items;
using Drainboard.Web.Features.Lavatories;

namespace Drainboard.Web.Features.Deferrals;

/// <param name="SigningCode">The signer's own second secret.</param>
public sealed record CertifyDeferralRequest(string? SigningCode = null);

public sealed class CertifyDeferralHandler(ItemDoor door, SigningCodes codes)
{
    public Task<Answer> HandleAsync(Call call, DefectId id, CertifyDeferralRequest request, CancellationToken stop) =>
        door.ChangeAsync(call, Act.CertifyDeferral, id, request with { SigningCode = null }, async item =>
            item.Deferral is not { } deferral ? (Decision)NoDeferral.Refusal
            : await codes.WhyNotAsync(item.Attempt.Actor, request.SigningCode, item.Attempt.Stop) is { } no ? no
            : await NextSector.WhyNotWithoutAsync(item, item.Attempt.Stop) is { } few ? few
            : deferral.Certify(item.Defect, item.Flights, item.Disturbed, item.PlaceFor(ownWork: true), item.Attempt.Actor, item.Attempt.Now), stop);
}
