using Drainboard.Domain.Accounts;
using Drainboard.Domain.Defects;
using Drainboard.Web.Features.Door;
using Drainboard.Web.Features.Items;

namespace Drainboard.Web.Features.Defects;

public sealed record ReasonRequest(string Reason);

public sealed class CloseInErrorHandler(ItemDoor door)
{
    public Task<Answer> HandleAsync(Call call, DefectId id, ReasonRequest request, CancellationToken stop) =>
        door.ChangeAsync(call, Act.CloseInError, id, request, item => item.Defect.CloseInError(request.Reason, item.Attempt.Now), stop);
}
