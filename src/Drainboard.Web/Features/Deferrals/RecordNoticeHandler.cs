using Drainboard.Domain.Accounts;
using Drainboard.Domain.Defects;
using Drainboard.Web.Features.Door;
using Drainboard.Web.Features.Items;
using Microsoft.EntityFrameworkCore;

namespace Drainboard.Web.Features.Deferrals;

public sealed record RecordNoticeRequest(string Reference);

public sealed class RecordNoticeHandler(ItemDoor door)
{
    public Task<Answer> HandleAsync(Call call, DefectId id, RecordNoticeRequest request, CancellationToken stop) =>
        door.ChangeAsync(call, Act.RecordNotice, id, request, async item =>
        {
            // The duty to tell outlives the deferral.
            var deferral = item.Deferral ?? await item.Attempt.Db.Deferrals.Where(row => row.Defect == id && row.NoticeDueAt != null).OrderByDescending(row => row.ProposedAt).FirstOrDefaultAsync(item.Attempt.Stop);
            return deferral is null ? NoDeferral.Refusal : deferral.RecordNotice(item.Defect, request.Reference, item.Attempt.Actor, item.Attempt.Now);
        }, stop);
}
