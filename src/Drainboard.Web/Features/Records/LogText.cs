using Drainboard.Domain.Defects;
using Drainboard.Domain.Deferrals;
using Drainboard.Domain.Fleet;
using Drainboard.Domain.Rectification;
using NodaTime;
using NodaTime.Text;

namespace Drainboard.Web.Features.Records;

/// <summary>Text ready to be copied into the aircraft log, in its plain form: what, since when, on what basis, by whom.</summary>
public static class LogText
{
    private static readonly InstantPattern Minute = InstantPattern.CreateWithInvariantCulture("dd MMM uuuu HH:mm'Z'");

    public static string For(Registration tail, Fixture fixture, Defect defect, Deferral? deferral, WorkDone? work) => (defect.State, deferral, work) switch
    {
        (DefectState.WorkDone or DefectState.Closed, _, { } done) => Rectified(tail, fixture, defect, done),
        (DefectState.Deferred or DefectState.Open, { EndedAt: null } carried, _) => Carried(tail, fixture, defect, carried),
        (DefectState.Open or DefectState.Reported, _, { Outcome: WorkOutcome.NotRectified } tried) => $"{Written(tail, fixture, defect)} NOT RECTIFIED: {Rectified(tail, fixture, defect, tried)}",
        _ => $"{Written(tail, fixture, defect)}{Ended(defect)}",
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

    private static string Rectified(Registration tail, Fixture fixture, Defect defect, WorkDone work) =>
        $"{tail} {fixture.Name} ({fixture.Position}): {work.Found.Words().ToLowerInvariant()} at {work.FoundAt}. {Sentences.Join(work.Steps.Select(step => step.Words))} Iaw {work.ManualReference}. Ops check {Say(work.OpsCheck, "satis", "FAILED")}, leak check {Say(work.LeakCheck, "dry", "LEAK")}. Completed {Minute.Format(work.CompletedAt)} by {work.PerformerName}.{(work.OpenTasks.Length > 0 ? $" Open: {work.OpenTasks}." : "")} Ref {defect.Log?.ToString() ?? "no log entry"}.{(work.Release is { } release ? $" {(work.Outcome == WorkOutcome.NotRectified ? "Signed, no release," : "Released")} {Minute.Format(release.At)} by {release.Name}, {release.Kind} {release.Number}{(defect.ClosureLog is { } log ? $", {log}" : "")}." : "")}";

    private static string Say(Check? check, string good, string bad) => check is null ? "not done" : check.Passed ? good : bad;
}
