using Drainboard.Domain.Accounts;
using Drainboard.Domain.Defects;
using Drainboard.Web.Features.Defects;
using Drainboard.Web.Features.Door;
using Drainboard.Web.Features.Items;

namespace Drainboard.Web.Features.Rectification;

public sealed class ReturnWorkHandler(ItemDoor door)
{
    public Task<Answer> HandleAsync(Call call, DefectId id, ReasonRequest request, CancellationToken stop) =>
        door.ChangeAsync(call, Act.ReturnWork, id, request, item => item.Work is { } work
            ? work.Return(item.Defect, item.Deferral, request.Reason, item.Attempt.Now)
            : RecordChecksHandler.NoWork, stop);
}
