using Drainboard.Domain;
using Drainboard.Domain.Accounts;
using Drainboard.Domain.Defects;
using Drainboard.Web.Features.Door;
using Drainboard.Web.Features.Items;

namespace Drainboard.Web.Features.Rectification;

public sealed record RecordChecksRequest(CheckEntry? OpsCheck = null, CheckEntry? LeakCheck = null);

public sealed class RecordChecksHandler(ItemDoor door)
{
    public static Refusal NoWork { get; } = new("no-work", "No work is recorded that waits for a release.");

    public Task<Answer> HandleAsync(Call call, DefectId id, RecordChecksRequest request, CancellationToken stop) =>
        door.ChangeAsync(call, Act.RecordChecks, id, request, item => item.Work is { } work
            ? work.RecordChecks(item.Defect, request.OpsCheck?.ToCheck(item.Attempt.Actor, item.Attempt.Now), request.LeakCheck?.ToCheck(item.Attempt.Actor, item.Attempt.Now))
            : NoWork, stop);
}
