using Drainboard.Domain;
using Drainboard.Domain.Accounts;
using Drainboard.Domain.Defects;
using Drainboard.Web.Features.Door;
using Drainboard.Web.Features.Items;
using Drainboard.Web.Features.Lavatories;

namespace Drainboard.Web.Features.Deferrals;

public sealed record PrepareDeferralRequest(IReadOnlyList<int> ConditionsDone, bool PlacardFitted, string? PlacardWhere = null);

public sealed class PrepareDeferralHandler(ItemDoor door)
{
    public Task<Answer> HandleAsync(Call call, DefectId id, PrepareDeferralRequest request, CancellationToken stop) =>
        door.ChangeAsync(call, Act.PrepareDeferral, id, request, async item => item.Deferral is not { } deferral ? (Decision)NoDeferral.Refusal
            : !deferral.Basis.CertifyingRequired && item.Disturbed.WhyNotDefer() is { } disturbed ? disturbed
            : await NextSector.WhyNotWithoutAsync(item, item.Attempt.Stop) is { } few ? few
            : deferral.Prepare(item.Defect, request.ConditionsDone, request.PlacardFitted, request.PlacardWhere ?? "", item.Flights, item.Attempt.Actor, item.Attempt.Now), stop);
}
