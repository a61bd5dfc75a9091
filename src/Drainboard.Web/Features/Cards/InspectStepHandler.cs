using Drainboard.Domain;
using Drainboard.Domain.Accounts;
using Drainboard.Domain.Defects;
using Drainboard.Web.Features.Accounts;
using Drainboard.Web.Features.Door;
using Drainboard.Web.Features.Items;
using Microsoft.EntityFrameworkCore;

namespace Drainboard.Web.Features.Cards;

/// <param name="Id">Made on the device; the idempotency key.</param>
/// <param name="Job">The job, where it is not the one that runs or waits for its release: a card that was left has steps to inspect too.</param>
/// <param name="SigningCode">The signer's own second secret.</param>
/// <param name="Turn">Which time of the step was looked at (its "times" in the job).</param>
public sealed record InspectStepRequest(Guid Id, int Turn = 1, string? SigningCode = null, Guid? Job = null);

public sealed class InspectStepHandler(ItemDoor door, SigningCodes codes)
{
    public Task<Answer> HandleAsync(Call call, DefectId id, string step, InspectStepRequest request, CancellationToken stop) =>
        door.ChangeAsync(call, Act.InspectStep, id, new { step, request.Id, request.Turn, request.Job }, async item =>
        {
            var (attempt, db) = (item.Attempt, item.Attempt.Db);
            if (Lifecycle.WhyNot(item.Defect.State, Act.InspectStep) is { } no)
            {
                return no;
            }

            var jobs = await OpenJob.UnsignedOnAsync(db, id, attempt.Stop);
            var open = request.Job is { } job ? jobs.FirstOrDefault(one => one.Job.Id.Value == job) : jobs.LastOrDefault(one => one.Job.IsRunning || one.Job.Id == item.Work?.Card?.Job);
            return open is null ? (Decision)NoJob.Refusal
                : await codes.WhyNotAsync(attempt.Actor, request.SigningCode, attempt.Stop) is { } unsigned ? unsigned
                : open.Job.Inspect(item.Defect, open.Card, open.Steps, step, request.Turn, item.Work?.Performer, item.PlaceFor(ownWork: false), attempt.Actor, attempt.Now);
        }, stop);
}
