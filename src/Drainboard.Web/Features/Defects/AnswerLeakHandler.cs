using Drainboard.Domain.Accounts;
using Drainboard.Domain.Defects;
using Drainboard.Web.Features.Door;
using Drainboard.Web.Features.Items;

namespace Drainboard.Web.Features.Defects;

public sealed record AnswerLeakRequest(LeakAnswer Leak, string? LeakWhere = null);

public sealed class AnswerLeakHandler(ItemDoor door)
{
    public Task<Answer> HandleAsync(Call call, DefectId id, AnswerLeakRequest request, CancellationToken stop) =>
        door.ChangeAsync(call, Act.AnswerLeak, id, request, item => item.Defect.AnswerLeak(request.Leak, request.LeakWhere ?? "", item.Deferral, item.Attempt.Now), stop);
}
