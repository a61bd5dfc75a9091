using Drainboard.Domain;
using Drainboard.Domain.Accounts;
using Drainboard.Domain.Cards;
using Drainboard.Domain.Defects;
using Drainboard.Domain.Rectification;
using Drainboard.Web.Features.Accounts;
using Drainboard.Web.Features.Cards;
using Drainboard.Web.Features.Door;
using Drainboard.Web.Features.Items;

namespace Drainboard.Web.Features.Rectification;

/// <param name="Outcome">Rectified, no fault found, or not rectified: signed for what was done, and the defect is open again.</param>
/// <param name="SigningCode">The signer's own second secret.</param>
public sealed record ReleaseRequest(WorkOutcome Outcome, string? OpenTasks = null, LogEntry? Log = null, string? SigningCode = null);

public sealed class ReleaseHandler(ItemDoor door, SigningCodes codes)
{
    public Task<Answer> HandleAsync(Call call, DefectId id, ReleaseRequest request, CancellationToken stop) =>
        door.ChangeAsync(call, Act.Release, id, request with { SigningCode = null }, item => SignAsync(item, request), stop);

    private async Task<Decision> SignAsync(Item item, ReleaseRequest request)
    {
        var attempt = item.Attempt;
        if (item.Work is not { } work)
        {
            return Lifecycle.WhyNot(item.Defect.State, Act.Release) ?? RecordChecksHandler.NoWork;
        }

        if ((request.Log?.WhyNot(attempt.Now) ?? await codes.WhyNotAsync(attempt.Actor, request.SigningCode, attempt.Stop)) is { } no)
        {
            return no;
        }

        var jobs = await OpenJob.UnsignedOnAsync(attempt.Db, item.Defect.Id, attempt.Stop);
        var me = attempt.Actor.Person;
        return work.SignRelease(
            item.Defect, item.Deferral, new ReleaseTerms(request.Outcome, request.OpenTasks ?? "", request.Log?.ToReference()), LooseEnds.Of(item.Things, jobs.Select(job => (job.Card, job.Steps))),
            item.Installation.Mode, item.PlaceFor(work.Performer == me && jobs.SelectMany(job => job.Steps).All(step => step.By == me)), attempt.Actor, attempt.Now);
    }
}
