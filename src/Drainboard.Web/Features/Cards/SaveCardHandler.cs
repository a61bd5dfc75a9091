using Drainboard.Domain;
using Drainboard.Domain.Accounts;
using Drainboard.Domain.Cards;
using Drainboard.Domain.Defects;
using Drainboard.Domain.Fleet;
using Drainboard.Domain.Records;
using Drainboard.Web.Features.Door;
using Microsoft.EntityFrameworkCore;

namespace Drainboard.Web.Features.Cards;

/// <summary>A card as it is published.</summary>
/// <param name="Id">The new version's id, made by the sender; the idempotency key.</param>
/// <param name="Families">The families of symptom that it is offered first for.</param>
/// <param name="HasShortForm">A job without surprises may be told in five answers.</param>
public sealed record SaveCardRequest(Guid Id, string Title, string ManualReference, IReadOnlyList<FixtureKind> Kinds, IReadOnlyList<CardStep> Steps, IReadOnlyList<SymptomFamily>? Families = null, bool HasShortForm = false, bool IsExample = false);

/// <summary>Publishes a version of a work card. Jobs that run keep theirs and are told.</summary>
public sealed class SaveCardHandler(OneDoor door)
{
    public Task<Answer> HandleAsync(Call call, string code, SaveCardRequest request, CancellationToken stop) =>
        door.ChangeAsync(call, Act.ManageCards, new { code, request }, attempt => SaveAsync(attempt, call, code.Trim(), request), stop, OneDoor.LargestDrawing);

    private static async Task<Answer> SaveAsync(Attempt attempt, Call call, string code, SaveCardRequest request)
    {
        var before = await attempt.Db.WorkCards.Where(card => card.Code == code).OrderByDescending(card => card.Version).FirstOrDefaultAsync(attempt.Stop);
        if (call.SeenVersion != (before?.Version ?? Call.SawNone))
        {
            return before is null ? new Answer.NotFound($"There is no work card \"{code}\" to change.")
                : call.SeenVersion == Call.SawNone ? new Refusal("card-exists", $"There is a work card \"{code}\" already ({before.Title}). Change that one, or choose another code.")
                : new Answer.Stale(before.Version);
        }

        var terms = new CardTerms(request.Title, request.ManualReference, request.Kinds, request.Families ?? [], request.HasShortForm, request.IsExample, request.Steps);
        if (WorkCard.Publish(new WorkCardId(request.Id), code, terms, before, attempt.Now, out var made) is { } no)
        {
            return no;
        }

        attempt.Db.Add(made!);
        attempt.Record(new Fact(ChainKey.Operator, "card.published", request.Id, $"Work card {made!.VersionWords} was published.").With("card", code).With("cardVersion", made.Version).With("manual", made.ManualReference).With("steps", made.Steps.Count));
        return attempt.Done(request.Id, () => made.Version, $"Version {made.Version} is published.");
    }
}
