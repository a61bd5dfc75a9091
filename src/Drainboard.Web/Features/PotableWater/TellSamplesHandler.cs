using Drainboard.Domain;
using Drainboard.Domain.Accounts;
using Drainboard.Domain.PotableWater;
using Drainboard.Web.Features.Door;
using Drainboard.Web.Features.Fleet;
using Drainboard.Web.Hosting;
using Microsoft.EntityFrameworkCore;
using NodaTime;

namespace Drainboard.Web.Features.PotableWater;

/// <param name="Sample">Its place in the set, from 1.</param>
public sealed record SampleResult(int Sample, Instant AnalysisStartedAt, bool Coliform, bool EColi);

/// <param name="ToldAt">When the laboratory told: the clocks run from then.</param>
public sealed record TellSamplesRequest(Instant ToldAt, IReadOnlyList<SampleResult> Results);

/// <summary>Takes over a laboratory's results. A positive one opens the case that the rule asks for, in the same transaction; three negative repeats end theirs.</summary>
public sealed class TellSamplesHandler(OneDoor door, LayoutCatalog layouts)
{
    public Task<Answer> HandleAsync(Call call, string registration, Guid id, TellSamplesRequest request, CancellationToken stop) =>
        door.ChangeAsync(call, Act.JudgeWater, new { registration, id, request }, attempt => TellAsync(attempt, call, registration, new SampleSetId(id), request), stop);

    private async Task<Answer> TellAsync(Attempt attempt, Call call, string registration, SampleSetId id, TellSamplesRequest request)
    {
        var (db, stop) = (attempt.Db, attempt.Stop);
        var (found, trouble) = await WaterTail.FindAsync(attempt, layouts, registration, Act.JudgeWater);
        if (found is null)
        {
            return trouble!;
        }

        if (await db.SampleSets.SingleOrDefaultAsync(row => row.Id == id && row.Tail == found.Tail.Id, stop) is not { } set)
        {
            return new Answer.NotFound("There is no such set of samples.");
        }

        if (call.SeenVersion is { } seen && seen != set.Version)
        {
            return new Answer.Stale(set.Version);
        }

        var toldAt = Instant.Min(MicrosecondClock.Cut(request.ToldAt), attempt.Now);
        switch (set.Tell([.. request.Results.Select(result => (result.Sample - 1, MicrosecondClock.Cut(result.AnalysisStartedAt), result.Coliform, result.EColi))], toldAt))
        {
            case Decision.Refused refused: return refused.Refusal;
            case Decision.AlreadySo already: return attempt.Done(set.Id.Value, () => set.Version, already.Words);
            case Decision.Done done: attempt.Record(done.Fact); break;
            default: throw new InvalidOperationException("A decision is done, already so or refused.");
        }

        var running = await db.WaterCases.Where(row => row.Tail == set.Tail && row.EndedAt == null).ToArrayAsync(stop);
        var about = running.Where(row => row.From == set.Id || row.Id == set.Case).ToArray();
        if (WaterRule.AfterSamples(set.Purpose, set.Samples) is { } what)
        {
            if (await db.WaterCases.AnyAsync(row => row.From == set.Id && row.Kind == what, stop))
            {
                return attempt.Done(set.Id.Value, () => set.Version, "Recorded. What it starts was started already.");
            }

            var opened = WaterCase.Open(new WaterCaseId(NewId.At(attempt.Now)), found.Tail, what, toldAt, found.Programme?.Terms.CanShutOff ?? false, set, "", attempt.Actor, attempt.Now, out var made);
            if (opened is Decision.Refused refused)
            {
                return refused.Refusal;
            }

            db.Add(made!);
            attempt.Record(((Decision.Done)opened).Fact);
            foreach (var older in about)
            {
                attempt.Record(((Decision.Done)older.GiveWayTo(made!, attempt.Actor, attempt.Now)).Fact);
            }

            return attempt.Done(set.Id.Value, () => set.Version, $"{what.Words()}: its actions run now.");
        }

        if (set is { Purpose: SamplePurpose.Repeat, IsNegative: true } && about.SingleOrDefault(row => row.Id == set.Case && row.Way == "iii") is { } decided)
        {
            attempt.Record(((Decision.Done)decided.EndByRepeats(attempt.Actor, attempt.Now)).Fact);
            return attempt.Done(set.Id.Value, () => set.Version, "All repeats are negative: the case has ended.");
        }

        return attempt.Done(set.Id.Value, () => set.Version, set.IsTold ? "All are negative." : "Recorded; the rest is awaited.");
    }
}
