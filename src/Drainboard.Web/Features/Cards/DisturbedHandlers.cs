using Drainboard.Domain;
using Drainboard.Domain.Accounts;
using Drainboard.Domain.Cards;
using Drainboard.Domain.Defects;
using Drainboard.Web.Features.Door;
using Drainboard.Web.Features.Items;

namespace Drainboard.Web.Features.Cards;

/// <param name="Id">The thing's id, made on the device; the idempotency key.</param>
public sealed record NoteDisturbedRequest(Guid Id, DisturbedKind Kind, string Words);

public sealed class NoteDisturbedHandler(ItemDoor door)
{
    public Task<Answer> HandleAsync(Call call, DefectId id, NoteDisturbedRequest request, CancellationToken stop) =>
        door.ChangeAsync(call, Act.NoteDisturbed, id, request, item =>
        {
            var decision = DisturbedThing.Note(new DisturbedId(request.Id), item.Defect, request.Kind, request.Words, item.Attempt.Actor, item.Attempt.Now, out var made);
            if (made is not null)
            {
                item.Attempt.Db.Add(made);
            }

            return decision;
        }, stop);
}

/// <param name="Id">Made on the device; the idempotency key.</param>
/// <param name="Restored">True: in its usual state again. False: left so for a deferral, as the words say.</param>
public sealed record SettleDisturbedRequest(Guid Id, bool Restored, string? Words = null);

public sealed class SettleDisturbedHandler(ItemDoor door)
{
    public Task<Answer> HandleAsync(Call call, DefectId id, Guid thing, SettleDisturbedRequest request, CancellationToken stop) =>
        door.ChangeAsync(call, Act.NoteDisturbed, id, new { thing, request }, item =>
            item.Things.FirstOrDefault(one => one.Id.Value == thing) is not { } found ? new Refusal("no-such-thing", "Nothing of this kind is noted as disturbed on this item.")
            : request.Restored ? found.Restore(item.Defect, item.Attempt.Actor, item.Attempt.Now)
            : found.LeaveFor(item.Defect, request.Words ?? ""), stop);
}
