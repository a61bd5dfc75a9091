using Drainboard.Domain;
using Drainboard.Domain.Accounts;
using Drainboard.Domain.Defects;
using Drainboard.Web.Features.Door;
using Drainboard.Web.Features.Items;

namespace Drainboard.Web.Features.Cards;

/// <param name="Id">Made on the device; the idempotency key.</param>
public sealed record GoOnRequest(Guid Id);

/// <summary>The card got a new version while the job ran: goes on with that one.</summary>
public sealed class GoOnHandler(ItemDoor door)
{
    public Task<Answer> HandleAsync(Call call, DefectId id, GoOnRequest request, CancellationToken stop) =>
        door.ChangeAsync(call, Act.DoJob, id, new { goOn = request }, async item =>
            await OpenJob.RunningOnAsync(item.Attempt.Db, id, item.Attempt.Stop) is not { } open ? (Decision)(Lifecycle.WhyNot(item.Defect.State, Act.DoJob) ?? NoJob.Refusal)
            : open.Current is { } current ? open.Job.GoOnWith(item.Defect, open.Card, current, open.Steps)
            : new Refusal("card-withdrawn", "This card was withdrawn, and there is no newer version. Leave it and choose another."), stop);
}
