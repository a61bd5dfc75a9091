using Drainboard.Domain;
using Drainboard.Domain.Accounts;
using Drainboard.Domain.Defects;
using Drainboard.Web.Features.Accounts;
using Drainboard.Web.Features.Door;
using Drainboard.Web.Features.Items;
using Microsoft.EntityFrameworkCore;

namespace Drainboard.Web.Features.Cards;

/// <param name="Id">Made on the device; the idempotency key.</param>
/// <param name="SigningCode">The signer's own second secret.</param>
public sealed record InspectStepRequest(Guid Id, string? SigningCode = null);

public sealed class InspectStepHandler(ItemDoor door, SigningCodes codes)
{
    public Task<Answer> HandleAsync(Call call, DefectId id, string step, InspectStepRequest request, CancellationToken stop) =>
        door.ChangeAsync(call, Act.InspectStep, id, new { step, request.Id }, async item =>
        {
            var (attempt, db) = (item.Attempt, item.Attempt.Db);
            if (Lifecycle.WhyNot(item.Defect.State, Act.InspectStep) is { } no)
            {
                return no;
            }

            var open = item.Work is { Card: { } card } ? await OpenJob.FindAsync(db, card.Job, attempt.Stop) : await OpenJob.RunningOnAsync(db, id, attempt.Stop);
            return open is null ? (Decision)NoJob.Refusal
                : await codes.WhyNotAsync(attempt.Actor, request.SigningCode, attempt.Stop) is { } unsigned ? unsigned
                : open.Job.Inspect(item.Defect, open.Card, open.Steps, step, item.PlaceFor(ownWork: false), attempt.Actor, attempt.Now);
        }, stop);
}
