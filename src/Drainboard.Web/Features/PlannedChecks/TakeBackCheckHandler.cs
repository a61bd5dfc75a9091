using Drainboard.Domain;
using Drainboard.Domain.Accounts;
using Drainboard.Domain.PlannedChecks;
using Drainboard.Web.Features.Door;
using Drainboard.Web.Features.Items;
using Microsoft.EntityFrameworkCore;

namespace Drainboard.Web.Features.PlannedChecks;

/// <summary>Takes a check back that was ticked in error: it is due again.</summary>
public sealed class TakeBackCheckHandler(OneDoor door)
{
    public Task<Answer> HandleAsync(Call call, string registration, Guid id, ReasonRequest request, CancellationToken stop) =>
        door.ChangeAsync(call, Act.DoCheck, new { registration, id, request }, async attempt =>
        {
            var (tail, trouble) = await TailToCheck.FindAsync(attempt, registration, attempt.Now);
            if (tail is null)
            {
                return trouble!;
            }

            var done = await attempt.Db.ChecksDone.SingleOrDefaultAsync(row => row.Id == new CheckDoneId(id) && row.Tail == tail.Id, attempt.Stop);
            switch (done?.TakeBack(request.Reason, attempt.Actor, attempt.Now))
            {
                case Decision.Done taken:
                    await TailToCheck.MarkNewestAsync(attempt.Db, done, attempt.Stop);
                    attempt.Record(taken.Fact);
                    return attempt.Done(id, () => done.Version, $"Taken back: it is due again.{(done.Report is null ? "" : " The report that was written with it stays; close it as entered in error if it was one.")}");
                case Decision.Refused refused:
                    return refused.Refusal;
                default:
                    return new Answer.NotFound($"There is no such check on {tail.Registration}.");
            }
        }, stop);
}
