using Drainboard.Domain.Accounts;
using Drainboard.Domain.Defects;
using Drainboard.Web.Features.Door;
using Drainboard.Web.Features.Items;

namespace Drainboard.Web.Features.Defects;

public sealed record CorrectRequest(string Words);

public sealed class CorrectHandler(ItemDoor door)
{
    public Task<Answer> HandleAsync(Call call, DefectId id, CorrectRequest request, CancellationToken stop) =>
        door.ChangeAsync(call, Act.Correct, id, request, item => item.Defect.Correct(request.Words), stop);
}
