using Drainboard.Domain.Handovers;
using Drainboard.Web.Features.Paper;
using Drainboard.Web.Shell;

namespace Drainboard.Web.Features.Handovers;

/// <summary>A signed handover on paper.</summary>
internal static class HandoverPaper
{
    public static byte[] Write(HandoverView station, SignedHandover signed, string notice, PaperSize size)
    {
        using var paper = new PaperWriter($"Handover {station.Station}", $"{notice} {station.Station}, {Times.Utc(signed.SignedAt)}, content {signed.Hash[..12]}", size);
        paper.Title($"{station.Station} handover");
        paper.Text($"{station.StationName}. Shift from {Times.Full(signed.From, station.Zone)} to {Times.Full(signed.SignedAt, station.Zone)}.");
        if (!signed.Holds)
        {
            paper.Text("ALTERED IN THE DATABASE: this is not what was signed.", bold: true);
        }

        paper.Rule();
        foreach (var (heading, lines) in signed.Content.Parts())
        {
            paper.Heading(heading);
            foreach (var line in lines)
            {
                paper.Text($"{line.Tail} {line.What}: {line.Words}", bold: heading == "Take care", indent: 12);
            }

            if (lines.Count == 0)
            {
                paper.Text("Nothing.", indent: 12);
            }
        }

        paper.Heading("Notes");
        paper.Text(signed.Notes.Length > 0 ? signed.Notes : "None.", indent: 12);
        paper.Rule();
        paper.Signature("Outgoing lead", $"{signed.OutgoingName}, signed {Times.Utc(signed.SignedAt)}");
        paper.Signature("Incoming lead", signed.IncomingName is { } name ? $"{name}, taken over {Times.Utc(signed.TakenAt!.Value)}" : "");
        return paper.Finish();
    }
}
