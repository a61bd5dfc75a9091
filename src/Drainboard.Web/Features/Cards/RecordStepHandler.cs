using System.Security.Cryptography;
using Drainboard.Data.Records;
using Drainboard.Domain;
using Drainboard.Domain.Accounts;
using Drainboard.Domain.Cards;
using Drainboard.Domain.Defects;
using Drainboard.Domain.Isolation;
using Drainboard.Web.Features.Defects;
using Drainboard.Web.Features.Door;
using Drainboard.Web.Features.Items;
using Drainboard.Web.Hosting;
using Microsoft.EntityFrameworkCore;
using NodaTime;

namespace Drainboard.Web.Features.Cards;

/// <param name="Id">Made on the device; the idempotency key.</param>
/// <param name="Value">For a measurement, in the step's unit.</param>
/// <param name="Again">Done once more; both times stay on record and the later one counts.</param>
/// <param name="DoneAt">When it was done, by the device; left out: now.</param>
public sealed record RecordStepRequest(Guid Id, StepResult Result = StepResult.Good, decimal? Value = null, string? Words = null, bool Again = false, Instant? DoneAt = null);

public sealed class RecordStepHandler(ItemDoor door)
{
    /// <param name="photo">The bytes of the photo that goes with the step, or null.</param>
    public Task<Answer> HandleAsync(Call call, DefectId id, string step, RecordStepRequest request, byte[]? photo, CancellationToken stop)
    {
        var sent = photo is null ? null : Convert.ToHexStringLower(SHA256.HashData(photo));
        return door.ChangeAsync(call, Act.DoJob, id, new { step, request, sha256 = sent }, item => RecordAsync(item, step, request, photo), stop);
    }

    private static async Task<Decision> RecordAsync(Item item, string key, RecordStepRequest request, byte[]? photo)
    {
        var (attempt, db, stop) = (item.Attempt, item.Attempt.Db, item.Attempt.Stop);
        if (Lifecycle.WhyNot(item.Defect.State, Act.DoJob) is { } no)
        {
            return no;
        }

        if (await OpenJob.RunningOnAsync(db, item.Defect.Id, stop) is not { } open)
        {
            return NoJob.Refusal;
        }

        var (kept, unfit) = photo is null ? (null, null) : await PhotoRules.TakeAsync(photo, stop);
        if (unfit is not null)
        {
            return unfit;
        }

        var sha256 = kept is null ? null : Convert.ToHexStringLower(SHA256.HashData(kept));

        var pour = open.Card.Find(key)?.Check == StepCheck.TimedPour ? await ProvingPour.FindAsync(db, item.Defect.Id, open.Job.StartedAt, stop) : null;
        var result = pour is { Result: PourResult.Slow } && request.Result == StepResult.Good ? StepResult.Bad : request.Result;
        var words = request.Words ?? (result == StepResult.Bad && pour is not null ? "The pour was slow." : "");
        var terms = new StepTerms(result, request.Value, words, request.Again, pour is null ? null : ProvingPour.Words(pour), sha256, request.DoneAt is { } at ? MicrosecondClock.Cut(at) : null);
        var decision = open.Job.Record(item.Defect, open.Card, open.Steps, key, terms, attempt.Actor, attempt.Now, out var made);
        if (made is not null)
        {
            db.Add(made);
            attempt.Touch(open.Job);
            if (kept is not null && !await db.Photos.AnyAsync(row => row.Sha256 == sha256, stop))
            {
                db.Add(new Photo(sha256!, PhotoRules.StoredKind, kept, attempt.Now));
            }

            Disturb(item, open, open.Card.Find(key)!, made);
        }

        return decision;
    }

    private static void Disturb(Item item, OpenJob open, CardStep step, JobStep made)
    {
        var attempt = item.Attempt;
        if (made.Result == StepResult.NotHere)
        {
            return;
        }

        if (step.Disturbs is not null && item.Things.All(thing => thing.Job != open.Job.Id || thing.Step != step.Key || thing.IsRestored))
        {
            attempt.Db.Add(DisturbedThing.ByStep(new DisturbedId(NewId.At(attempt.Now)), item.Defect, open.Job, step, attempt.Actor, attempt.Now));
        }

        if (made.Result == StepResult.Good && item.Things.FirstOrDefault(thing => thing.Job == open.Job.Id && thing.Step == step.Restores && !thing.IsRestored) is { } thing && thing.Restore(item.Defect, attempt.Actor, attempt.Now) is Decision.Done restored)
        {
            attempt.Record(restored.Fact);
        }
    }
}
