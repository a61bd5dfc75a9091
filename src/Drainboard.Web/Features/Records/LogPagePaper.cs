using Drainboard.Domain.Defects;
using Drainboard.Domain.Rectification;
using Drainboard.Web.Features.Cards;
using Drainboard.Web.Features.Defects;
using Drainboard.Web.Features.Paper;
using Drainboard.Web.Shell;
using NodaTime;

namespace Drainboard.Web.Features.Records;

/// <summary>
/// One item on one paper: the write-up, what carries it, the work with its checks and signatures (the contents of 14 CFR 43.9(a), 121.709 and
/// 145.A.50), and the newest seal of the record, so that the paper itself keeps a copy of it outside the database.
/// </summary>
internal static class LogPagePaper
{
    /// <param name="url">Where the fixture is reported: printed as a QR code.</param>
    public static byte[] Write(DefectView item, SealView? seal, string notice, string operatorName, string url, Instant now, PaperSize size)
    {
        using var paper = new PaperWriter($"{item.Tail} item {item.Number}", $"{notice} {item.Tail} item {item.Number}, printed {Times.Utc(now)}", size);
        paper.Title($"{item.Tail}: {item.FixtureName}");
        paper.Text($"{operatorName}. Item {item.Number} at {item.Position}, layout {item.Layout}. {Times.Capital(item.State.Words())}{(item.Closure is { } closure ? $": {closure.Words()}" : "")}.");
        paper.Qr(url, "Report this fixture");
        paper.Rule();
        paper.Heading("Write-up");
        paper.Text($"{item.Symptom.Words()}. {(item.Leak == LeakAnswer.Leaking ? $"LEAKING: {item.LeakWhere}" : item.Leak.Words())}. Seen {Times.Utc(item.SeenAt)}; original entry {item.Log ?? "not in a log"}, {Times.Utc(item.RecordedAt)}.");
        foreach (var report in item.Reports.Where(report => report.Words.Length > 0))
        {
            paper.Text($"{report.By}: \"{report.Words}\"", indent: 12);
        }

        if (item.Deferral is { BeganAt: not null } deferral)
        {
            paper.Heading(deferral.EndedAt is null ? "Deferred" : "Was deferred");
            paper.Text($"{deferral.Words}. {deferral.Installed} installed, {deferral.Required} required.{(deferral.Clock is { } clock ? $" Lapses {Times.Utc(clock.DueAt)}." : "")}{(deferral.PlacardFitted ? $" Placard \"{deferral.PlacardText}\" fitted {deferral.PlacardWhere}." : "")}");
            Signed(paper, "Certified", deferral.Certified);
        }

        foreach (var work in item.Work.Reverse())
        {
            Work(paper, work, item);
        }

        foreach (var part in item.Parts.Where(part => part.State == Domain.Cards.PartState.Fitted))
        {
            paper.Text($"Part: {part.Words}{(part.Clock is null ? "" : $", NO RELEASE CERTIFICATE: {Domain.Cards.Part.HoursWithoutCertificate} flight hours or first return to the main line station or main base")}.");
        }

        foreach (var thing in item.Disturbed.Where(thing => !thing.IsRestored))
        {
            paper.Text($"NOT IN ITS USUAL STATE: {thing.Title}. {thing.LeftWords}", bold: true);
        }

        foreach (var line in item.Story.Where(line => line.Kind == "defect.corrected"))
        {
            paper.Text($"{line.Words} ({line.By}, {Times.Utc(line.At)}, entry {line.Entry})", indent: 12);
        }

        paper.Rule();
        paper.Small(seal is null ? "The record has not been sealed yet." : $"Newest seal of the record: number {seal.Seal}, {Times.Utc(seal.At)}, over {seal.Leaves} heads, root {seal.Root}. Keep this paper: it proves later that nothing sealed before was altered.");
        return paper.Finish();
    }

    private static void Work(PaperWriter paper, WorkView work, DefectView item)
    {
        paper.Heading(work.ReturnReason.Length > 0 ? "Work, sent back" : work.Outcome is { } outcome ? $"Work: {outcome.Words()}" : "Work done, NOT RELEASED");
        paper.Text($"Found: {work.Found.Words().ToLowerInvariant()} at {work.FoundAt}. {Sentences.Join(work.Steps)}");
        paper.Text($"To {work.ManualReference}{(work.Card is { } card ? $", work card {card.Title} version {card.Version}" : "")}. Completed {Times.Utc(work.CompletedAt)} by {work.Performer}.");
        paper.Text($"Ops check: {Say(work.OpsCheck, "passed", "FAILED")} Leak check: {Say(work.LeakCheck, "dry", "LEAK FOUND")}");
        foreach (var inspection in work.Inspections)
        {
            Signed(paper, $"Required inspection, {inspection.Words.TrimEnd('.')}", inspection.By);
        }

        if (work.OutOfLimits.Count > 0)
        {
            paper.Text($"NOT AS IT SHOULD BE: {string.Join("; ", work.OutOfLimits)}.", bold: true);
        }

        if (work.OpenTasks.Length > 0)
        {
            paper.Text($"Open tasks: {work.OpenTasks}", bold: true);
        }

        if (work.Release is { } release)
        {
            paper.Text($"{(work.Outcome == WorkOutcome.NotRectified ? WorkDone.NotRectifiedStatement : WorkDone.Statement)}{((work.SignedIn ?? (work.Outcome == WorkOutcome.NotRectified ? null : item.ClosureLog)) is { } log ? $" Log: {log}." : "")}");
            Signed(paper, work.Outcome == WorkOutcome.NotRectified ? "Signed, not rectified" : "Released", release);
        }
    }

    private static void Signed(PaperWriter paper, string what, SignatureView? by)
    {
        if (by is not null)
        {
            paper.Text($"{what}: {by.Words}, {Times.Utc(by.At)}.", bold: true);
        }
    }

    private static string Say(Check? check, string good, string bad) =>
        check is null ? "not done." : $"{(check.Passed ? good : bad)}, {check.By}{(check.Words.Length > 0 ? $": {check.Words.TrimEnd('.')}" : "")}.";
}
