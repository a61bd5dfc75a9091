using Drainboard.Domain;
using Drainboard.Domain.Accounts;
using Drainboard.Domain.Defects;
using Drainboard.Web.Features.Door;
using Drainboard.Web.Features.Items;
using Drainboard.Web.Features.Turns;
using Microsoft.EntityFrameworkCore;

namespace Drainboard.Web.Features.Defects;

public sealed record MergeRequest(Guid Into, LogEntry? Log = null);

public sealed class MergeHandler(ItemDoor door)
{
    public Task<Answer> HandleAsync(Call call, DefectId id, MergeRequest request, CancellationToken stop) =>
        door.ChangeAsync(call, Act.Merge, id, request, async item =>
        {
            var into = new DefectId(request.Into);
            var db = item.Attempt.Db;
            var other = await db.Defects.SingleOrDefaultAsync(defect => defect.Id == into, item.Attempt.Stop);
            if (other is null)
            {
                return new Refusal("no-such-defect", "There is no such defect to join it to.");
            }

            if (request.Log?.WhyNot(item.Attempt.Now) is { } bad)
            {
                return bad;
            }

            if (await WhyNotClosed.AskAsync(item) is { } open)
            {
                return open;
            }

            var decision = item.Defect.MergeInto(other, request.Log?.ToReference(), item.Installation.Mode, item.Attempt.Now);
            if (decision is Decision.Done && other.Deferral is { } carried)
            {
                var deferral = await db.Deferrals.SingleAsync(row => row.Id == carried, item.Attempt.Stop);
                deferral.CountFrom(other, await Flights.ForAsync(db, deferral, item.Attempt.Stop));
                deferral.EndForALeak(other, item.Attempt.Now);
            }

            if (decision is Decision.Done)
            {
                foreach (var before in await db.Defects.Where(defect => defect.SameAs == item.Defect.Id).ToArrayAsync(item.Attempt.Stop))
                {
                    before.PointOn(into);
                }

                item.Attempt.Touch(other);
                item.Attempt.Record(other.Fact("defect.joined", $"Defect {item.Defect.Number} was joined to this one.").With("joined", item.Defect.Id.Value).With("recordedAt", other.RecordedAt));
            }

            return decision;
        }, stop);
}
