using Drainboard.Domain;
using Drainboard.Domain.Accounts;
using Drainboard.Domain.Defects;
using Drainboard.Domain.Isolation;
using Drainboard.Domain.Rectification;
using Drainboard.Web.Features.Cards;
using Drainboard.Web.Features.Door;
using Drainboard.Web.Features.Items;

namespace Drainboard.Web.Features.Rectification;

public sealed record RecordChecksRequest(CheckEntry? OpsCheck = null, CheckEntry? LeakCheck = null);

public sealed class RecordChecksHandler(ItemDoor door)
{
    public static Refusal NoWork { get; } = new("no-work", "No work is recorded that waits for a release.");

    public Task<Answer> HandleAsync(Call call, DefectId id, RecordChecksRequest request, CancellationToken stop) =>
        door.ChangeAsync(call, Act.RecordChecks, id, request, async item =>
            item.Work is not { } work ? (Decision)NoWork
            : await WhyNotPassedAsync(item, work, request.OpsCheck) is { } no ? no
            : work.RecordChecks(item.Defect, request.OpsCheck?.ToCheck(item.Attempt.Actor, item.Attempt.Now), request.LeakCheck?.ToCheck(item.Attempt.Actor, item.Attempt.Now)), stop);

    // A slow pour and a passed check contradict each other until somebody says why both are true.
    private static async Task<Refusal?> WhyNotPassedAsync(Item item, WorkDone work, CheckEntry? ops) =>
        ops is { Passed: true }
        && await ProvingPour.FindAsync(item.Attempt.Db, item.Defect.Id, work.Card?.StartedAt ?? work.CompletedAt, item.Attempt.Stop) is { Result: PourResult.Slow } pour
        && (ops.Words?.Trim() ?? "") is var said && (said.Length == 0 || said == ProvingPour.Words(pour))
            ? new Refusal("slow-pour", "The pour after the work was slow. Say in your own words why the ops check passes all the same, or record it as failed.")
            : null;
}
