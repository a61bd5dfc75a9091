using Drainboard.Domain;
using Drainboard.Domain.Accounts;
using Drainboard.Domain.PotableWater;
using Drainboard.Web.Features.Door;
using Drainboard.Web.Features.Fleet;
using Drainboard.Web.Hosting;
using Microsoft.EntityFrameworkCore;
using NodaTime;

namespace Drainboard.Web.Features.PotableWater;

/// <param name="Id">Made by the sender; the case's id and the idempotency key.</param>
/// <param name="ToldAt">When it was told or discovered.</param>
/// <param name="Words">What happened: which task was missed, which source it was.</param>
public sealed record OpenWaterCaseRequest(Guid Id, WaterEvent Kind, Instant ToldAt, string Words);

/// <summary>Opens a case for what no result of ours tells: a missed task, an unsafe source, a result that came another way.</summary>
public sealed class OpenWaterCaseHandler(OneDoor door, LayoutCatalog layouts)
{
    public Task<Answer> HandleAsync(Call call, string registration, OpenWaterCaseRequest request, CancellationToken stop) =>
        door.ChangeAsync(call, Act.JudgeWater, new { registration, request }, async attempt =>
        {
            var (found, trouble) = await WaterTail.FindAsync(attempt, layouts, registration, Act.JudgeWater);
            if (found is null)
            {
                return trouble!;
            }

            switch (WaterCase.Open(new WaterCaseId(request.Id), found.Tail, request.Kind, MicrosecondClock.Cut(request.ToldAt), found.Programme?.Terms.CanShutOff ?? false, null, request.Words, attempt.Actor, attempt.Now, out var made))
            {
                case Decision.Refused refused: return refused.Refusal;
                case Decision.Done done:
                    attempt.Db.Add(made!);
                    attempt.Record(done.Fact);
                    if (request.Kind == WaterEvent.MissedAfterColiform)
                    {
                        foreach (var missed in (await attempt.Db.WaterCases.Where(row => row.Tail == found.Tail.Id && row.EndedAt == null).ToArrayAsync(attempt.Stop)).Where(row => row.HasWays))
                        {
                            attempt.Record(((Decision.Done)missed.GiveWayTo(made!, attempt.Actor, attempt.Now)).Fact);
                        }
                    }

                    return attempt.Done(request.Id, () => made!.Version, done.Fact.Words);
                default: throw new InvalidOperationException("A case is opened or refused.");
            }
        }, stop);
}
