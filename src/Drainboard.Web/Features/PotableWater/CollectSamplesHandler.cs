using Drainboard.Domain;
using Drainboard.Domain.Accounts;
using Drainboard.Domain.Fleet;
using Drainboard.Domain.PotableWater;
using Drainboard.Web.Features.Door;
using Drainboard.Web.Features.Fleet;
using Drainboard.Web.Hosting;
using Microsoft.EntityFrameworkCore;
using NodaTime;

namespace Drainboard.Web.Features.PotableWater;

/// <param name="Id">Made on the device; the idempotency key.</param>
/// <param name="Taps">The position of each tap; the same one twice where there is one tap only.</param>
/// <param name="Case">The running case that asks for repeats or follow-ups.</param>
public sealed record CollectSamplesRequest(Guid Id, SamplePurpose Purpose, IReadOnlyList<string> Taps, Instant CollectedAt, Guid? Case = null);

/// <summary>Records that a set of drinking water samples was collected.</summary>
public sealed class CollectSamplesHandler(OneDoor door, LayoutCatalog layouts)
{
    private const int MostTaps = 20;

    public Task<Answer> HandleAsync(Call call, string registration, CollectSamplesRequest request, CancellationToken stop) =>
        door.ChangeAsync(call, Act.WorkOnWater, new { registration, request }, attempt => CollectAsync(attempt, registration, request), stop);

    private async Task<Answer> CollectAsync(Attempt attempt, string registration, CollectSamplesRequest request)
    {
        var (db, stop) = (attempt.Db, attempt.Stop);
        var (found, trouble) = await WaterTail.FindAsync(attempt, layouts, registration, Act.WorkOnWater);
        if (found is null)
        {
            return trouble!;
        }

        var taps = new List<Position>();
        foreach (var text in request.Taps)
        {
            if (!Position.TryParse(text, out var tap) || taps.Count == MostTaps)
            {
                return new Refusal("no-such-tap", taps.Count == MostTaps ? $"A set has up to {MostTaps} samples." : $"This aircraft has no tap \"{text}\".");
            }

            taps.Add(tap);
        }

        if (found.WhyNotKept is { } unkept)
        {
            return unkept;
        }

        WaterCase? of = null;
        IReadOnlyList<Position> positive = [];
        if (request.Case is { } id)
        {
            var key = new WaterCaseId(id);
            of = await db.WaterCases.SingleOrDefaultAsync(row => row.Id == key && row.Tail == found.Tail.Id, stop);
            positive = of?.From is { } from ? (await db.SampleSets.AsNoTracking().SingleAsync(set => set.Id == from, stop)).Positive : [];
        }

        var at = MicrosecondClock.Cut(request.CollectedAt);
        var disinfected = await WaterTail.DisinfectedAsync(db, found.Tail.Id, Instant.Min(at, attempt.Now), stop);
        switch (SampleSet.Collect(new SampleSetId(request.Id), found.Tail, found.Layout, request.Purpose, taps, of, positive, at, disinfected, attempt.Actor, attempt.Now, out var made))
        {
            case Decision.Refused refused: return refused.Refusal;
            case Decision.Done done:
                db.Add(made!);
                if (made!.Purpose == SamplePurpose.Repeat)
                {
                    of!.TakeRepeats(made.CollectedAt);
                }

                attempt.Record(done.Fact);
                return attempt.Done(request.Id, () => made!.Version, $"{done.Fact.Words} The analysis begins by {(made.CollectedAt + WaterRule.LongestToAnalysis).InUtc():uuuu-MM-dd HH:mm}Z.");
            default: throw new InvalidOperationException("A set is collected or refused.");
        }
    }
}
