using Drainboard.Domain;
using Drainboard.Domain.Accounts;
using Drainboard.Domain.Cards;
using Drainboard.Domain.Defects;
using Drainboard.Domain.Fleet;
using Drainboard.Web.Features.Door;
using Drainboard.Web.Features.Items;
using Microsoft.EntityFrameworkCore;
using static Drainboard.Web.Features.Cards.PartPlace;

namespace Drainboard.Web.Features.Cards;

/// <param name="Id">The part's id, made on the device; the idempotency key. For a change, any new id.</param>
/// <param name="Certificate">Reference of the release certificate; empty: it has none.</param>
/// <param name="NeedsCertificate">False for a standard part or consumable that conforms by its own marking.</param>
public sealed record PartRequest(Guid Id, PartState State, string Name, string? PartNumber = null, string? Quantity = null, string? Batch = null, string? Certificate = null, bool NeedsCertificate = true)
{
    internal PartTerms Terms => new(State, Name, PartNumber ?? "", Quantity ?? "", Batch ?? "", Certificate ?? "", NeedsCertificate);
}

internal static class PartPlace
{
    public static bool IsMainBase(Item item) => item.Where is { } station && Abilities.Of(station.Capabilities).HasFlag(Ability.MainBase);
}

public sealed class NotePartHandler(ItemDoor door)
{
    public Task<Answer> HandleAsync(Call call, DefectId id, PartRequest request, CancellationToken stop) =>
        door.ChangeAsync(call, Act.NotePart, id, request, item =>
        {
            var decision = Part.Note(new PartId(request.Id), item.Defect, request.Terms, item.Where?.Code, IsMainBase(item), item.Attempt.Actor, item.Attempt.Now, out var made);
            if (made is not null)
            {
                item.Attempt.Db.Add(made);
            }

            return decision;
        }, stop);
}

public sealed class ChangePartHandler(ItemDoor door)
{
    public Task<Answer> HandleAsync(Call call, DefectId id, Guid part, PartRequest request, CancellationToken stop) =>
        door.ChangeAsync(call, Act.NotePart, id, new { part, request }, async item =>
        {
            var key = new PartId(part);
            return await item.Attempt.Db.Parts.SingleOrDefaultAsync(row => row.Id == key && row.Defect == id, item.Attempt.Stop) is { } found
                ? found.Change(item.Defect, request.Terms, item.Where?.Code, IsMainBase(item), item.Attempt.Actor, item.Attempt.Now)
                : new Refusal("no-such-part", "This item has no such part.");
        }, stop);
}
