using Drainboard.Domain;
using Drainboard.Domain.Accounts;
using Drainboard.Domain.PotableWater;
using Drainboard.Web.Features.Items;
using Drainboard.Web.Features.Door;
using Drainboard.Web.Features.Fleet;
using Microsoft.EntityFrameworkCore;

namespace Drainboard.Web.Features.PotableWater;

/// <summary>Takes a set of samples out: not valid, lost, or entered in error.</summary>
public sealed class VoidSamplesHandler(OneDoor door, LayoutCatalog layouts)
{
    public Task<Answer> HandleAsync(Call call, string registration, Guid id, ReasonRequest request, CancellationToken stop) =>
        door.ChangeAsync(call, Act.JudgeWater, new { registration, id, request }, async attempt =>
        {
            var key = new SampleSetId(id);
            var (found, trouble) = await WaterTail.FindAsync(attempt, layouts, registration, Act.JudgeWater);
            if (found is null)
            {
                return trouble!;
            }

            if (await attempt.Db.SampleSets.SingleOrDefaultAsync(row => row.Id == key && row.Tail == found.Tail.Id, attempt.Stop) is not { } set)
            {
                return new Answer.NotFound("There is no such set of samples.");
            }

            if (call.SeenVersion is { } seen && seen != set.Version)
            {
                return new Answer.Stale(set.Version);
            }

            switch (set.Void(request.Reason, attempt.Now))
            {
                case Decision.Refused refused: return refused.Refusal;
                case Decision.AlreadySo already: return attempt.Done(id, () => set.Version, already.Words);
                case Decision.Done done:
                    attempt.Record(done.Fact);
                    await MissedAsync(attempt, found, set);
                    return attempt.Done(id, () => set.Version, "Taken out; it counts as not taken.");
                default: throw new InvalidOperationException("A decision is done, already so or refused.");
            }
        }, stop);

    /// <summary>A case that ended by this set has lost what it ended by: the sample counts as missed from now on (141.803(g)).</summary>
    private static async Task MissedAsync(Attempt attempt, WaterTail found, SampleSet set)
    {
        if (set.Case is not { } of || await attempt.Db.SampleSets.AnyAsync(row => row.Case == of && row.Id != set.Id && row.VoidedAt == null, attempt.Stop))
        {
            return;
        }

        var ended = await attempt.Db.WaterCases.SingleAsync(row => row.Id == of, attempt.Stop);
        if (ended.IsRunning && set.Purpose == SamplePurpose.Repeat)
        {
            ended.TakeRepeats(null);
        }

        if (await attempt.Db.WaterCases.AnyAsync(row => row.Tail == set.Tail && row.EndedAt == null, attempt.Stop))
        {
            return;
        }

        var kind = WaterRule.NeedsNegative(ended.Kind) ? WaterEvent.MissedAfterEColi : WaterEvent.MissedAfterColiform;
        var opened = (Decision.Done)WaterCase.Open(new WaterCaseId(NewId.At(attempt.Now)), found.Tail, kind, attempt.Now, ended.CanShutOff, null, $"The {set.Purpose.Words()} of {ended.Kind.Words()} was taken out.", attempt.Actor, attempt.Now, out var made);
        attempt.Db.Add(made!);
        attempt.Record(opened.Fact);
    }
}
