using Drainboard.Domain;
using Drainboard.Domain.Accounts;
using Drainboard.Domain.Departure;
using Drainboard.Domain.Fleet;
using Drainboard.Domain.Records;
using Drainboard.Domain.Turns;
using Drainboard.Web.Features.Door;
using Drainboard.Web.Features.Items;
using Microsoft.EntityFrameworkCore;

namespace Drainboard.Web.Features.Departure;

/// <param name="Hash">The sheet that was read, by its hash.</param>
public sealed record AcknowledgeSheetRequest(Guid Id, SheetSigner Signer, string Hash);

public sealed class AcknowledgeSheetHandler(OneDoor door, SheetQuery sheets)
{
    public Task<Answer> HandleAsync(Call call, string registration, AcknowledgeSheetRequest request, CancellationToken stop) =>
        door.ChangeAsync(call, Act.AcknowledgeSheet, new { registration, request }, async attempt =>
        {
            var db = attempt.Db;
            var tail = Registration.TryParse(registration, out var mark) ? await db.Tails.AsNoTracking().SingleOrDefaultAsync(row => row.Registration == mark, attempt.Stop) : null;
            if (tail is null || await sheets.ReadAsync(db, mark, attempt.Now, attempt.Stop) is not { } sheet)
            {
                return new Answer.NotFound("There is no such tail.");
            }

            var turns = await ItemDoor.TurnsAroundAsync(db, tail.Id, attempt.Now, attempt.Stop);
            if (Permissions.WhyNot(attempt.Actor, Act.AcknowledgeSheet, mark, Whereabouts.ReachableAt([.. turns], attempt.Now)) is { } no)
            {
                return new Answer.NotAllowed(no);
            }

            if (WhyNot(attempt.Actor, request, sheet) is { } refused)
            {
                return refused;
            }

            db.Acknowledgements.Add(new SheetAcknowledgement(request.Id, tail.Id, new TurnId(sheet.Turn!.Value), request.Signer, attempt.Actor.Person, attempt.Actor.Name, sheet.Hash, attempt.Now));
            attempt.Record(new Fact(ChainKey.For(tail.Id), "sheet.acknowledged", sheet.Turn.Value, $"Departure sheet acknowledged by the {(request.Signer == SheetSigner.PilotInCommand ? "pilot in command" : "senior crew member")}: {sheet.Carried.Count} carried, {sheet.Unsettled.Count} not settled.").With("sheet", sheet.Hash).With("signer", request.Signer));
            return attempt.Done(request.Id, () => 0, "Acknowledged.");
        }, stop);

    private static Refusal? WhyNot(Actor actor, AcknowledgeSheetRequest request, SheetView sheet) =>
        sheet.Turn is null
            ? new Refusal("no-turn", "No departure of this tail is known. Import its turn first.")
        : !actor.Roles.Contains(request.Signer == SheetSigner.PilotInCommand ? Role.Pilot : Role.CabinCrew)
            ? new Refusal("not-this-signer", request.Signer == SheetSigner.PilotInCommand ? "The pilot in command acknowledges as such." : "The senior crew member acknowledges as such.")
        : request.Hash != sheet.Hash
            ? new Refusal("sheet-changed", "The sheet changed since you opened it. Read it again, then acknowledge it.")
        : sheet.Acknowledged.Any(one => one.OfThisSheet && one.Signer != request.Signer && one.Name == actor.Name)
            ? new Refusal("two-people", "You have acknowledged this sheet for the other seat. Two people read it.")
        : sheet.IsAcknowledgedBy(request.Signer)
            ? new Refusal("acknowledged-before", "This sheet is acknowledged already.")
        : null;
}
