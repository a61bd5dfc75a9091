using Drainboard.Domain.Defects;
using Drainboard.Domain.Deferrals;
using Drainboard.Domain.Departure;
using Drainboard.Web.Features.Paper;
using Drainboard.Web.Features.Turns;
using Drainboard.Web.Shell;

namespace Drainboard.Web.Features.Departure;

/// <summary>The departure sheet on paper: clean in black and white, with room for both signatures.</summary>
internal static class SheetPaper
{
    public static byte[] Write(SheetView sheet, string notice, PaperSize size)
    {
        using var paper = new PaperWriter($"Departure sheet {sheet.Tail}", $"{notice} {sheet.Tail}, {Times.Utc(sheet.Now)}, sheet {sheet.Hash[..12]}", size);
        paper.Title($"{sheet.Tail}: carried into this departure");
        paper.Text(sheet.Stay is { } stay ? $"{stay.Station}, {StandWords.Of(stay.Stand)}. ETD {Times.Full(stay.DepartsAt, sheet.Zone)}. Layout {sheet.Layout}." : "No departure is known.");
        paper.Rule();
        foreach (var note in sheet.Notes.Where(note => note.Forbids))
        {
            paper.Text($"MAY NOT DEPART SO: {note.Words}", bold: true);
        }

        if (sheet.Carried.Count == 0)
        {
            paper.Text("Nothing is carried.");
        }

        if (!sheet.FlightKnown && sheet.Carried.Count > 0)
        {
            paper.Text("The flight after this stay is not known here: its arrival was not held against the clocks.");
        }

        foreach (var item in sheet.Carried)
        {
            WriteItem(paper, item);
        }

        if (sheet.Unsettled.Count > 0)
        {
            paper.Heading("Not settled yet: neither carried nor closed");
            foreach (var item in sheet.Unsettled)
            {
                paper.Text($"{item.Number}. {item.FixtureName}: {item.Words.ToLowerInvariant()}, {item.State.Words()}.");
            }
        }

        foreach (var note in sheet.Notes.Where(note => !note.Forbids))
        {
            paper.Text(note.Words);
        }

        paper.Rule();
        paper.Signature("Pilot in command", Signed(sheet, SheetSigner.PilotInCommand));
        paper.Signature("Senior crew member", Signed(sheet, SheetSigner.SeniorCrewMember));
        return paper.Finish();
    }

    private static void WriteItem(PaperWriter paper, SheetItem item)
    {
        paper.Heading($"{item.Number}. {item.FixtureName} ({item.Position}): {item.Symptom.ToLowerInvariant()}");
        paper.Text($"{item.Basis}. {(item.DueAt is { } due ? $"Lapses {Times.Utc(due)}." : "No end.")} {item.Log}");
        if (!item.MayDepart)
        {
            paper.Text("MAY NOT DEPART WITH IT: the clock does not allow this flight.", bold: true);
        }

        foreach (var condition in item.Conditions)
        {
            paper.Text($"{(condition.Kind == ConditionKind.Maintenance ? "(M)" : "(O)")} {condition.Words} {(condition.At is { } at ? $"Done {Times.Utc(at)}, {condition.By}." : "NOT DONE.")}", indent: 12);
        }

        foreach (var words in item.ToDo)
        {
            paper.Text($"BEFORE THIS DEPARTURE: {words}", bold: true, indent: 12);
        }

        if (item.Placard.Length > 0)
        {
            paper.Text($"Placard: {item.Placard}", indent: 12);
        }
    }

    private static string Signed(SheetView sheet, SheetSigner signer) =>
        sheet.Acknowledged.LastOrDefault(one => one.Signer == signer && one.OfThisSheet) is { } by ? $"{by.Name}, acknowledged {Times.Utc(by.At)}" : "";
}
