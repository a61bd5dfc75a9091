using Drainboard.Domain.Accounts;
using Drainboard.Domain.Defects;
using Drainboard.Domain.Rectification;
using Drainboard.Web.Features.Door;
using Drainboard.Web.Features.Items;

namespace Drainboard.Web.Features.Rectification;

public sealed record ReleaseRequest(Closure Outcome, string? OpenTasks = null, LogEntry? Log = null);

public sealed class ReleaseHandler(ItemDoor door)
{
    public Task<Answer> HandleAsync(Call call, DefectId id, ReleaseRequest request, CancellationToken stop) =>
        door.ChangeAsync(call, Act.Release, id, request, item =>
            item.Work is not { } work ? (Domain.Decision)(Lifecycle.WhyNot(item.Defect.State, Act.Release) ?? RecordChecksHandler.NoWork)
            : request.Log?.WhyNot(item.Attempt.Now) is { } bad ? (Domain.Decision)bad
            : work.SignRelease(item.Defect, item.Deferral, new ReleaseTerms(request.Outcome, request.OpenTasks ?? "", request.Log?.ToReference()), item.Installation.Mode, item.Zone, item.Attempt.Actor, item.Attempt.Now), stop);
}
