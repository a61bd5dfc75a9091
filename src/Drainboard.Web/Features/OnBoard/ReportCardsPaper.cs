using Drainboard.Web.Features.Fleet;
using Drainboard.Web.Features.Paper;

namespace Drainboard.Web.Features.OnBoard;

/// <summary>Codes that lead to each fixture's own report page, a sheet for each part of the cabin: for the crew's folder.</summary>
internal static class ReportCardsPaper
{
    private const string Notice = "For the crew's folder. A label that is fixed in a cabin may need design approval: ask your design or continuing-airworthiness organisation first.";

    public static byte[] Write(string tail, IReadOnlyList<AreaView> areas, string host, PaperSize size)
    {
        using var paper = new PaperWriter($"Report codes {tail}", Notice, size);
        for (var index = 0; index < areas.Count; index++)
        {
            if (index > 0)
            {
                paper.Break();
            }

            paper.Title($"{tail}, {areas[index].Name}");
            paper.Text("Scan, say what you see, save. It works without a connection once the page was opened on this device.");
            paper.Rule();
            foreach (var fixture in areas[index].Fixtures)
            {
                paper.Heading(fixture.Name);
                paper.Qr($"{host}/report?tail={tail}&at={fixture.Position}", "Report this fixture");
            }
        }

        return paper.Finish();
    }
}
