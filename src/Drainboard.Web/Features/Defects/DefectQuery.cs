using System.Text.Json;
using Drainboard.Data;
using Drainboard.Domain.Accounts;
using Drainboard.Domain.Defects;
using Drainboard.Domain.Deferrals;
using Drainboard.Domain.Fleet;
using Drainboard.Domain.Pours;
using Drainboard.Domain.Recurrence;
using Drainboard.Domain.Rectification;
using Drainboard.Domain.Records;
using Drainboard.Domain.Turns;
using Drainboard.Web.Features.Cards;
using Drainboard.Web.Features.Deferrals;
using Drainboard.Web.Features.Fleet;
using Drainboard.Web.Features.Items;
using Drainboard.Web.Features.Pours;
using Drainboard.Web.Features.Records;
using Microsoft.EntityFrameworkCore;
using NodaTime;

namespace Drainboard.Web.Features.Defects;

public sealed record DefectView(
    Guid Id, int Number, string Tail, string Layout, string Position, string FixtureName, string FixtureKind, Symptom Symptom, LeakAnswer Leak, string LeakWhere,
    DefectState State, Closure? Closure, Guid? SameAs, Instant SeenAt, Instant ReceivedAt, Instant RecordedAt, Instant? ClosedAt, string? Log, string? ClosureLog, RepeatFlag? Repeat, long Version,
    IReadOnlyList<ReportView> Reports, DeferralView? Deferral, ClockWhy? ClockWhy, IReadOnlyList<WorkView> Work, IReadOnlyList<StoryLine> Story, IReadOnlyList<Act> Possible, string? WhyNoAction, TurnView? Turn, string Zone, LogMode Mode, string LogText, IReadOnlyList<PourView> Pours, bool CanBePoured, bool CanBeAdvised,
    LogReference? LogReference, Holder? Holder, IReadOnlyList<CardOffer> Cards, JobView? Job, IReadOnlyList<DisturbedView> Disturbed, IReadOnlyList<PartView> Parts, IReadOnlyList<StepToInspect> ToInspect);

/// <summary>A step that an authorised second person has yet to inspect before the item can be released.</summary>
public sealed record StepToInspect(Guid Job, string Step, string Words);

/// <summary>A required inspection that was made.</summary>
public sealed record InspectionView(string Words, SignatureView By);

public sealed record ReportView(Guid Id, string By, string Words, Symptom Symptom, LeakAnswer Leak, string LeakWhere, FlightPhase Phase, Instant SeenAt, Instant? SavedAt, Instant? LoggedAt, Instant ReceivedAt, LogReference? Log, IReadOnlyList<string> Photos, string? Device, int? OffsetMinutes, double? ClockOffMinutes, OthersToo Others, IReadOnlyList<string> AlsoAt);

public sealed record WorkView(Guid Id, Found Found, string FoundAt, string ManualReference, IReadOnlyList<string> Steps, Instant CompletedAt, int? Minutes, string Performer, Check? OpsCheck, Check? LeakCheck, WorkOutcome? Outcome, string OpenTasks, SignatureView? Release, string ReturnReason, CardWork? Card, IReadOnlyList<string> OutOfLimits, string? SignedIn, IReadOnlyList<InspectionView> Inspections, IReadOnlyList<string> Photos)
{
    /// <summary>From when a pour proves it: within a job the drain is poured before the work is written up.</summary>
    public Instant ProvenFrom => Card?.StartedAt ?? CompletedAt;

    public static WorkView Of(WorkDone work, OpenJob? job) => new(work.Id.Value, work.Found, work.FoundAt.Value, work.ManualReference, [.. work.Steps.Select(step => step.Words)], work.CompletedAt, work.Minutes, work.PerformerName, work.OpsCheck, work.LeakCheck, work.Outcome, work.OpenTasks, SignatureView.Of(work.Release), work.ReturnReason, work.Card, work.OutOfLimits, work.SignedIn?.ToString(),
        job is null ? [] : [.. Domain.Cards.Job.Counting(job.Card, job.Steps).Where(row => row.Inspection is not null).Select(row => new InspectionView(job.Card.Find(row.Step)!.Words, SignatureView.Of(row.Inspection)!))],
        job is null ? [] : [.. job.Steps.Select(step => step.Photo).OfType<string>().Distinct()]);
}

public sealed record SignatureView(string Name, string Number, string Kind, string Organisation, string Approval, Instant At)
{
    /// <summary>Who signed, and under what.</summary>
    public string Words => $"{Name}, {Authorisation.WordsOf(Kind, Number, Organisation, Approval)}";

    public static SignatureView? Of(Signature? signature) =>
        signature is null ? null : new(signature.Name, signature.Number, signature.Kind, signature.Organisation, signature.Approval, signature.At);
}

/// <summary>One line of the story, from the record.</summary>
/// <param name="Corrects">The entry that this one corrects, if any.</param>
public sealed record StoryLine(Instant At, string Kind, string Words, string? By, long Entry, long? Corrects = null);

public sealed class DefectQuery(IDbContextFactory<DrainboardDb> factory, LayoutCatalog layouts, IClock clock)
{
    public async Task<DefectView?> ReadAsync(DefectId id, Actor actor, CancellationToken stop)
    {
        await using var db = await factory.CreateDbContextAsync(stop);
        await using var moment = await db.OneMomentAsync(stop);
        var defect = await db.Defects.AsNoTracking().SingleOrDefaultAsync(defect => defect.Id == id, stop);
        if (defect is null)
        {
            return null;
        }

        var now = clock.GetCurrentInstant();
        var tail = await db.Tails.AsNoTracking().SingleAsync(tail => tail.Id == defect.Tail, stop);
        var layout = await layouts.GetAsync(tail.Layout, stop);
        var fixture = ItemDoor.FixtureAt(layout, defect.Position);
        var turns = await ItemDoor.TurnsAroundAsync(db, tail.Id, now, stop);
        var reachable = Whereabouts.ReachableAt([.. turns], now);
        var turn = Whereabouts.CurrentOrNext(turns, now);
        var here = turn?.Station ?? reachable.Select(code => (StationCode?)code).FirstOrDefault();
        var zone = here is { } station ? await db.Stations.Where(row => row.Code == station).Select(row => row.Zone).SingleOrDefaultAsync(stop) : null;
        var joined = await db.Defects.Where(other => other.SameAs == id).Select(other => other.Id).ToArrayAsync(stop);
        var reports = await db.Reports.AsNoTracking().Where(report => report.Defect == id || joined.Contains(report.Defect)).OrderBy(report => report.SeenAt).ToArrayAsync(stop);
        var deferrals = await db.Deferrals.AsNoTracking().Where(deferral => deferral.Defect == id).OrderByDescending(deferral => deferral.ProposedAt).ToArrayAsync(stop);
        var work = await db.Work.AsNoTracking().Where(work => work.Defect == id).OrderByDescending(work => work.RecordedAt).ToArrayAsync(stop);
        var pours = await db.Pours.AsNoTracking().Where(pour => pour.Defect == id && pour.WithdrawnAt == null).OrderBy(pour => pour.PouredAt).ToArrayAsync(stop);
        var things = await db.Disturbed.AsNoTracking().Where(thing => thing.Defect == id).OrderBy(thing => thing.At).ToArrayAsync(stop);
        var parts = await db.Parts.AsNoTracking().Where(part => part.Defect == id).OrderBy(part => part.At).ToArrayAsync(stop);
        var clocks = await PartClocks.ReadAsync(db, parts, now, stop);
        var job = await JobQuery.ReadAsync(db, id, stop);
        var jobs = await OpenJob.AllOnAsync(db, id, stop);
        var views = work.ToDictionary(row => row.Id, row => WorkView.Of(row, jobs.FirstOrDefault(job => job.Job.Id == row.Card?.Job)));
        var told = work.FirstOrDefault(row => row.ReturnReason.Length == 0);
        var pending = defect.IsActive ? await OpenJob.UnsignedOnAsync(db, id, stop) : [];
        var cards = defect.State is DefectState.Open or DefectState.Deferred && job is null ? await CardsQuery.OffersAsync(db, fixture.Kind, defect.Symptom, stop) : [];
        var story = await StoryAsync(db, id, stop);
        var mode = await db.Installations.Select(installation => installation.Mode).SingleAsync(stop);
        var deferral = deferrals.FirstOrDefault(row => row.Id == defect.Deferral) ?? deferrals.FirstOrDefault(row => row.BeganAt is not null);
        return new DefectView(
            id.Value, defect.Number, tail.Registration.Value, layout.Code, fixture.Position.Value, fixture.Name, fixture.Kind.Words(), defect.Symptom, defect.Leak, defect.LeakWhere,
            defect.State, defect.Closure, defect.SameAs?.Value, defect.SeenAt, defect.ReceivedAt, defect.RecordedAt, defect.ClosedAt, defect.Log?.ToString(), defect.ClosureLog?.ToString(), defect.Repeat, defect.Version,
            [.. reports.Select(report => View(report, layout))], deferral is null ? null : DeferralView.Of(deferral, now), deferral is null ? null : await ClockWhyQuery.ExplainAsync(db, deferral, now, stop), [.. work.Select(row => views[row.Id])], story, Possible(defect, deferral, actor, tail.Registration, reachable),
            Permissions.WhyNot(actor, Act.RecordWork) is null && defect.IsActive ? Permissions.WhyNot(actor, Act.RecordWork, tail.Registration, reachable)?.Words : null,
            turn is null ? null : TurnView.Of(turn, now), zone ?? "Etc/UTC", mode, LogText.For(tail.Registration, fixture, defect, deferral, told, told is null ? [] : views[told.Id].Inspections),
            [.. pours.Select(PourView.Of)], PourQuestions.WhyNotAt(layout, defect.Position) is null, PourQuestions.WhyNotAt(layout, defect.Position) is null || fixture.Kind == Domain.Fleet.FixtureKind.Toilet,
            defect.Log, defect.Holder, cards, job, [.. things.Select(DisturbedView.Of)], [.. parts.Select(part => PartView.Of(part, clocks.GetValueOrDefault(part.Id)))],
            [.. pending.SelectMany(job => Domain.Cards.Job.Counting(job.Card, job.Steps).Where(row => row is { NeedsInspection: true, Inspection: null }).Select(row => new StepToInspect(job.Job.Id.Value, row.Step, job.Card.Find(row.Step)!.Words)))]);
    }

    /// <summary>What this person may do with it now: the lifecycle, the permissions and the station together.</summary>
    private static Act[] Possible(Defect defect, Deferral? deferral, Actor actor, Registration tail, IReadOnlyCollection<StationCode> reachable)
    {
        var proposed = deferral is { EndedAt: null } && deferral.Id == defect.Deferral;
        return [.. Lifecycle.From(defect.State).Select(row => row.Act).Where(act => Permissions.WhyNot(actor, act, tail, reachable) is null).Where(act => act switch
        {
            Act.ProposeDeferral => !proposed,
            Act.PrepareDeferral => proposed && deferral!.Missing().Any(missing => missing.Code is "conditions" or "placard"),
            Act.AuthoriseDeferral => proposed && (deferral!.Basis.ControlRequired || deferral.RenewalOf is not null) && deferral.Control is null,
            Act.CertifyDeferral => proposed && deferral!.Basis.CertifyingRequired && deferral.Certified is null,
            Act.EndDeferral => proposed,
            Act.RecordNotice => deferral?.AwaitingNotice is not null,
            Act.DoCondition => proposed && deferral!.Conditions.Any(condition => condition.IsRepeated),
            Act.ExtendDeferral => proposed && deferral!.DueAt is not null && deferral.MayBeExtended,
            Act.Merge or Act.CloseInError => !proposed,
            _ => true,
        }).Distinct()];
    }

    private static ReportView View(Report report, CabinLayout layout) => new(report.Id.Value, report.ReporterName, report.Words, report.Symptom, report.Leak, report.LeakWhere, report.Phase, report.SeenAt, report.SavedAt, report.Log?.LoggedAt, report.ReceivedAt, report.Log, report.Photos, report.DeviceName.Length == 0 ? null : report.DeviceName, report.OffsetMinutes, report.ClockOff?.TotalMinutes, report.Others, [.. report.AlsoAt.Select(other => ItemDoor.FixtureAt(layout, other).Name)]);

    private static async Task<StoryLine[]> StoryAsync(DrainboardDb db, DefectId id, CancellationToken stop)
    {
        var subject = id.Value;
        var lines = from entry in db.Record.AsNoTracking()
                    where entry.Subject == subject
                    join signer in db.Signers on new { entry.Chain, Number = entry.Number } equals new { signer.Chain, Number = signer.EntryNumber } into signers
                    from signer in signers.DefaultIfEmpty()
                    orderby entry.Number
                    select new { entry.At, entry.Kind, entry.Words, signer!.Name, entry.Number, Payload = entry.Kind == "defect.corrected" ? entry.Payload : "" };
        return [.. (await lines.ToArrayAsync(stop)).Select(line => new StoryLine(line.At, line.Kind, line.Words, line.Name, line.Number, CorrectedBy(line.Payload)))];
    }

    private static long? CorrectedBy(string payload)
    {
        if (payload.Length == 0)
        {
            return null;
        }

        using var entry = JsonDocument.Parse(payload);
        return entry.RootElement.GetProperty("fields").TryGetProperty("corrects", out var number) ? number.GetInt64() : null;
    }
}
