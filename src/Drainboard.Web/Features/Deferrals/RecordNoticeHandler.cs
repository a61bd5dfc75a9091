using Drainboard.Domain.Accounts;
using Drainboard.Domain.Defects;
using Drainboard.Web.Features.Door;
using Drainboard.Web.Features.Items;

namespace Drainboard.Web.Features.Deferrals;

public sealed record RecordNoticeRequest(string Reference);

public sealed class RecordNoticeHandler(ItemDoor door)
{
    public Task<Answer> HandleAsync(Call call, DefectId id, RecordNoticeRequest request, CancellationToken stop) =>
        door.ChangeAsync(call, Act.RecordNotice, id, request, item => item.Deferral is { } deferral
            ? deferral.RecordNotice(item.Defect, request.Reference, item.Attempt.Actor, item.Attempt.Now)
            : NoDeferral.Refusal, stop);
}
