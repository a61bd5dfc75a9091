using Drainboard.Domain;
using Drainboard.Domain.Accounts;
using Drainboard.Domain.Defects;
using Drainboard.Domain.Fleet;
using Drainboard.Domain.Pours;
using Drainboard.Domain.Rectification;
using Drainboard.Domain.Turns;
using Drainboard.Web.Features.Door;
using Drainboard.Web.Features.Fleet;
using Drainboard.Web.Features.Items;
using Drainboard.Web.Hosting;
using Microsoft.EntityFrameworkCore;
using NodaTime;

namespace Drainboard.Web.Features.Pours;

/// <summary>A timed pour as it is sent. The id is made on the device. Either a volume or two marks.</summary>
/// <param name="SecondsUncertainty">One standard uncertainty of the time; half a second, as by hand, where it is left out.</param>
/// <param name="Confirmed">Codes of what was confirmed before water was poured; the page and GET .../pours list them.</param>
/// <param name="Defect">The defect that it looks into or proves.</param>
/// <param name="AfterWork">Within a running job: the drain was worked on and is closed again, so the pour proves the work.</param>
public sealed record RecordPourRequest(Guid Id, decimal Seconds, PourRun Run, Instant PouredAt, IReadOnlyList<string> Confirmed, int? Millilitres = null, int? FromMillimetres = null, int? ToMillimetres = null, decimal? SecondsUncertainty = null, bool CleanReference = false, Guid? Defect = null, bool AfterWork = false);

public sealed class RecordPourHandler(OneDoor door, LayoutCatalog layouts)
{
    public Task<Answer> HandleAsync(Call call, string registration, string position, RecordPourRequest request, CancellationToken stop) =>
        door.ChangeAsync(call, Act.RecordPour, new { registration, position, request }, attempt => RecordAsync(attempt, registration, position, request), stop);

    private async Task<Answer> RecordAsync(Attempt attempt, string registration, string at, RecordPourRequest request)
    {
        var (db, stop) = (attempt.Db, attempt.Stop);
        var tail = Registration.TryParse(registration, out var mark) ? await db.Tails.AsNoTracking().SingleOrDefaultAsync(tail => tail.Registration == mark, stop) : null;
        if (tail is null || !Position.TryParse(at, out var position))
        {
            return new Answer.NotFound($"There is no fixture \"{at}\" on \"{registration}\".");
        }

        var turns = await ItemDoor.TurnsAroundAsync(db, tail.Id, attempt.Now, stop);
        if (Permissions.WhyNot(attempt.Actor, Act.RecordPour, tail.Registration, Whereabouts.ReachableAt([.. turns], attempt.Now)) is { } no)
        {
            return new Answer.NotAllowed(no);
        }

        var defect = request.Defect is { } id ? await db.Defects.AsNoTracking().SingleOrDefaultAsync(row => row.Id == new DefectId(id) && row.Tail == tail.Id, stop) : null;
        if (request.Defect is not null && defect is null)
        {
            return new Refusal("no-such-defect", $"{tail.Registration} has no such defect. Time the pour without it.");
        }

        var layout = await layouts.GetAsync(tail.Layout, stop);
        var terms = new PourTerms(new PourMeasure(request.Millilitres, request.FromMillimetres, request.ToMillimetres), Milliseconds(request.Seconds), (int)Milliseconds(request.SecondsUncertainty ?? Pour.HandUncertaintyMilliseconds / 1000m), request.Run, request.CleanReference, MicrosecondClock.Cut(request.PouredAt), request.Confirmed);
        if (tail.WhyNotAt(terms.PouredAt) is { } early)
        {
            return early;
        }

        // A measure is a value in a column of its own form, so the few references of a fixture are compared here.
        var references = await db.Pours.AsNoTracking().Where(pour => pour.Tail == tail.Id && pour.Position == position && pour.IsReference && pour.WithdrawnAt == null && pour.PouredAt <= terms.PouredAt).OrderByDescending(pour => pour.PouredAt).Take(20).ToArrayAsync(stop);
        var slow = await SlowPercentAsync(attempt, turns);
        var worked = defect is null ? null : await db.Work.Where(work => work.Defect == defect.Id && work.ReturnReason == "" && work.Outcome != WorkOutcome.NotRectified).OrderByDescending(work => work.RecordedAt).Select(work => (Instant?)work.CompletedAt).FirstOrDefaultAsync(stop);
        if (request.AfterWork && defect is not null)
        {
            worked ??= await db.Jobs.Where(job => job.Defect == defect.Id && job.EndedAt == null).Select(job => (Instant?)job.StartedAt).FirstOrDefaultAsync(stop);
        }

        var decision = Pour.Time(new PourId(request.Id), tail, layout, position, defect, worked, terms, references.FirstOrDefault(pour => pour.Measure == terms.Measure), slow, attempt.Actor, attempt.Now, out var made);
        if (decision is Decision.Refused refused)
        {
            return refused.Refusal;
        }

        db.Add(made!);
        attempt.Record(((Decision.Done)decision).Fact);
        return attempt.Done(request.Id, () => made!.Version, made!.IsFasterThanClean ? $"Recorded: {made.ResultWords}. That is faster than its clean reference by more than the watch explains: check the marks, and take a new reference if this drain was never so free." : made.Reference is null && !made.IsReference && references.Length > 0 ? $"Recorded: {made.ResultWords}. The clean reference is of another measure ({references[0].Measure.Words}), so it goes by what was seen." : $"Recorded: {made.ResultWords}.");
    }

    private static async Task<int> SlowPercentAsync(Attempt attempt, IReadOnlyList<Turn> turns)
    {
        var here = Whereabouts.CurrentOrNext(turns, attempt.Now)?.Station;
        return here is { } code ? await attempt.Db.Stations.Where(station => station.Code == code).Select(station => station.SlowPercent).SingleOrDefaultAsync(attempt.Stop) is var percent and > 0 ? percent : Station.UsualSlowPercent : Station.UsualSlowPercent;
    }

    // Absurd times are kept within what the rule can refuse in words.
    private static long Milliseconds(decimal seconds) => (long)Math.Round(Math.Clamp(seconds, -1, 1_000_000) * 1000);
}
