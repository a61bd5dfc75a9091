using Drainboard.Web.Features.Defects;
using Drainboard.Web.Features.Paper;
using Drainboard.Web.Shell;

namespace Drainboard.Web.Features.Deferrals;

/// <summary>A placard to cut out: the words large, what they rest on small, and a code that leads to the fixture's own report page.</summary>
internal static class PlacardPaper
{
    public static byte[] Write(DefectView item, DeferralView deferral, string url, string notice, PaperSize size)
    {
        using var paper = new PaperWriter($"Placard {item.Tail} {item.Position}", $"{notice} Cut along the frame. Fit it where the item says, and take it off with the deferral.", size);
        paper.Framed(() =>
        {
            paper.Huge(deferral.PlacardText.Length > 0 ? deferral.PlacardText : "INOPERATIVE");
            paper.Title(item.FixtureName);
            paper.Text($"{item.Tail}, {item.Position}. {deferral.Words}.{(item.Log is { } log ? $" {log}." : "")}", bold: true);
            paper.Text(deferral.Clock is { } clock ? $"Until {Times.Utc(clock.DueAt)} at the latest." : "No end in days.");
            foreach (var thing in item.Disturbed.Where(thing => !thing.IsRestored))
            {
                paper.Text($"{thing.Title}: {thing.LeftWords}", bold: true);
            }

            paper.Qr(url, "Scan to report this fixture");
        });
        return paper.Finish();
    }
}
