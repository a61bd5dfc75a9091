using System.Globalization;
using System.Text;
using Drainboard.Domain.Accounts;
using Drainboard.Domain.Defects;
using Drainboard.Domain.Deferrals;
using Drainboard.Domain.Fleet;
using Drainboard.Domain.Rectification;
using Drainboard.Web.Features.Defects;
using NodaTime;
using NodaTime.Text;

namespace Drainboard.Web.Features.Records;

/// <summary>Text ready to be copied into the aircraft log, in its plain form: what, since when, on what basis, by whom.</summary>
public static class LogText
{
    private static readonly InstantPattern Minute = InstantPattern.CreateWithInvariantCulture("dd MMM uuuu HH:mm'Z'");

    public static string For(Registration tail, Fixture fixture, Defect defect, Deferral? deferral, WorkDone? work, IReadOnlyList<InspectionView> inspections) => (defect.State, deferral, work) switch
    {
        (DefectState.WorkDone or DefectState.Closed, _, { } done) => Worked(tail, fixture, defect, done, inspections),
        (DefectState.Deferred or DefectState.Open, { EndedAt: null } carried, _) => $"{Carried(tail, fixture, defect, carried)}{Tried(tail, fixture, defect, work, inspections)}",
        _ => $"{Written(tail, fixture, defect)}{Tried(tail, fixture, defect, work, inspections)}{Ended(defect)}",
    };

    private static string Written(Registration tail, Fixture fixture, Defect defect) =>
        $"{tail} {fixture.Name} ({fixture.Position}): {defect.Symptom.Words().ToLowerInvariant()}. {(defect.Leak == LeakAnswer.Leaking ? $"LEAK: {defect.LeakWhere}" : defect.Leak.Words())}. Seen {Minute.Format(defect.SeenAt)}.";

    private static string Ended(Defect defect) => defect.Closure switch
    {
        Closure.SameDefect => " Same defect as another entry, closed here.",
        Closure.EnteredInError => " Entered in error, closed.",
        _ => "",
    };

    private static string Carried(Registration tail, Fixture fixture, Defect defect, Deferral deferral) =>
        $"{tail} {fixture.Name} ({fixture.Position}): {defect.Symptom.Words().ToLowerInvariant()}. {(deferral.BeganAt is null ? "PROPOSED, NOT YET DEFERRED, under" : "Deferred iaw")} {deferral.BasisWords()}. Installed {deferral.Installed}, required {deferral.Required}. {(deferral.DueAt is { } due ? $"Expires {Minute.Format(due)}. " : "")}{(deferral.PlacardFitted ? "Placard fitted. " : "")}{(deferral.ControlReference.Length > 0 ? $"Control ref {deferral.ControlReference}. " : "")}Original entry {defect.Log?.ToString() ?? Minute.Format(defect.RecordedAt)}.";

    // Work that was signed and did not cure it stands in the log like any other.
    private static string Tried(Registration tail, Fixture fixture, Defect defect, WorkDone? work, IReadOnlyList<InspectionView> inspections) =>
        work is { Outcome: WorkOutcome.NotRectified } ? $" NOT RECTIFIED: {Worked(tail, fixture, defect, work, inspections)}" : "";

    private static string Worked(Registration tail, Fixture fixture, Defect defect, WorkDone work, IReadOnlyList<InspectionView> inspections)
    {
        var text = new StringBuilder($"{tail} {fixture.Name} ({fixture.Position}): {work.Found.Words().ToLowerInvariant()} at {work.FoundAt}. {Sentences.Join(work.Steps.Select(step => step.Words))} Iaw {work.ManualReference}.");
        if (work.OutOfLimits.Count > 0)
        {
            text.Append(CultureInfo.InvariantCulture, $" NOT AS IT SHOULD BE: {Sentences.Join(work.OutOfLimits)}");
        }

        text.Append(CultureInfo.InvariantCulture, $" Ops check {Say(work.OpsCheck, "satis", "FAILED")}, leak check {Say(work.LeakCheck, "dry", "LEAK")}.");
        foreach (var inspection in inspections)
        {
            text.Append(CultureInfo.InvariantCulture, $" Required inspection, {inspection.Words.TrimEnd('.')}: {inspection.By.Words}.");
        }

        text.Append(CultureInfo.InvariantCulture, $" Completed {Minute.Format(work.CompletedAt)} by {work.PerformerName}.{(work.OpenTasks.Length > 0 ? $" Open: {work.OpenTasks.TrimEnd('.')}." : "")} Ref {defect.Log?.ToString() ?? "no log entry"}.");
        if (work is { Release: { } release, Outcome: { } outcome })
        {
            var log = work.SignedIn ?? (outcome == WorkOutcome.NotRectified ? null : defect.ClosureLog);
            text.Append(CultureInfo.InvariantCulture, $" {(outcome == WorkOutcome.NotRectified ? "Signed, no release" : $"Released, {outcome.Words()}")}, {Minute.Format(release.At)} by {release.Name}, {Authorisation.WordsOf(release.Kind, release.Number, release.Organisation, release.Approval)}{(log is null ? "" : $", {log}")}.");
        }

        return text.ToString();
    }

    private static string Say(Check? check, string good, string bad) => check is null ? "not done" : $"{(check.Passed ? good : bad)}{(check.Words.Length > 0 ? $" ({check.Words.TrimEnd('.')})" : "")}";
}
