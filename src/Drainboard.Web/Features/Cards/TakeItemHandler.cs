using Drainboard.Domain.Accounts;
using Drainboard.Domain.Defects;
using Drainboard.Web.Features.Door;
using Drainboard.Web.Features.Items;

namespace Drainboard.Web.Features.Cards;

/// <param name="Id">Made on the device; the idempotency key.</param>
/// <param name="Have">True: "I have it". False: let go again.</param>
public sealed record TakeItemRequest(Guid Id, bool Have);

public sealed class TakeItemHandler(ItemDoor door)
{
    public Task<Answer> HandleAsync(Call call, DefectId id, TakeItemRequest request, CancellationToken stop) =>
        door.ChangeAsync(call, Act.TakeItem, id, request, item => request.Have ? item.Defect.TakeOver(item.Attempt.Actor, item.Attempt.Now) : item.Defect.LetGo(), stop);
}
