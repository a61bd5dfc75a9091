using Drainboard.Domain.Reliability;
using Drainboard.Web.Features.Paper;
using Drainboard.Web.Features.SetUp;
using Drainboard.Web.Shell;
using NodaTime;
using static Drainboard.Web.Features.Reliability.ReliabilityWords;

namespace Drainboard.Web.Features.Reliability;

/// <summary>The month for the reliability meeting: each layout against its own year, who stands out, what was found, what crew could keep out.</summary>
public sealed class ReliabilityPaper(RepeatsQuery repeats, MonthsQuery months, CausesQuery causes, InstallationQuery installation, IClock clock)
{
    private const int MostStandings = 20;
    private const int MostCauses = 12;
    private const int MonthDays = 31;

    public async Task<byte[]> WriteAsync(string? size, CancellationToken stop)
    {
        var now = clock.GetCurrentInstant();
        var view = await repeats.ReadAsync(new RepeatsFilter(Flagged: true), MostStandings, stop);
        var notice = Notices.Of(await installation.ReadAsync(stop));
        var whole = await months.ReadAsync(new FleetScope(), AlertMethod.ExactPoisson, stop);
        using var paper = new PaperWriter($"Reliability {whole.Lines[^1].Month}", $"{notice} Reliability {whole.Lines[^1].Month}, printed {Times.Utc(now)}", PaperSizes.Parse(size));
        paper.Title($"Water and waste fixtures, {whole.Lines[^1].Month}");
        paper.Text("Write-ups per layout against the twelve months before (exact Poisson limits at the month's exposure), who stands out from chance, and what was found. Engineering decides what follows from it, in the approved programme.");
        paper.Rule();
        paper.Heading("The month");
        Month(paper, "Fleet", whole);
        foreach (var layout in view.Layouts)
        {
            Month(paper, layout, await months.ReadAsync(new FleetScope(layout), AlertMethod.ExactPoisson, stop));
        }

        Standings(paper, view);
        await CausesAsync(paper, stop);
        paper.Rule();
        paper.Small("Counts are write-ups that were neither joined with another nor entered in error, by when they were recorded. Rates assume independent events at a constant rate. None of this overrides approved data or a deferral's limits.");
        return paper.Finish();
    }

    private static void Month(PaperWriter paper, string name, MonthsView view)
    {
        var (last, unit) = (view.Lines[^1], StandingWords.Unit(view.Unit));
        paper.Text($"{name}: {last.Events} write-ups in {Say(last.Exposure)} {unit}, {Shown(last.Rate)} a thousand ({Shown(last.Low)} to {Shown(last.High)}); three months {Shown(last.Running3)}, twelve months {Shown(last.Running12)}; alert level {Shown(last.Level)}.{(last.Alert ? " ALERT." : "")}", bold: last.Alert, indent: 12);
    }

    private static void Standings(PaperWriter paper, RepeatsView view)
    {
        paper.Heading("Who stands out");
        if (view.Snapshot is not { } snapshot)
        {
            paper.Text("Not worked out yet.", indent: 12);
            return;
        }

        paper.Small($"Snapshot {snapshot.Number} of {Times.Utc(snapshot.At)}, {snapshot.Tested} fixtures and places tested together over a year; of those named here, one in twenty may be so by chance.");
        foreach (var line in view.Lines)
        {
            paper.Text($"{line.Rank}. {line.Tail ?? line.Layout} {line.Name} ({line.Position}), {StandingWords.Family(line.Family)}", bold: true, indent: 12);
            paper.Text(line.Reason, indent: 24);
        }

        paper.Text(view.Lines.Count == 0 ? "Nobody." : view.Count > view.Lines.Count ? $"And {view.Count - view.Lines.Count} more." : "", indent: 12);
    }

    private async Task CausesAsync(PaperWriter paper, CancellationToken stop)
    {
        var found = await causes.ReadAsync(new FleetScope(), CauseBy.Found, MonthDays, stop);
        paper.Heading($"What was found, last {MonthDays} days");
        foreach (var line in found.Lines.Take(MostCauses))
        {
            paper.Text($"{line.Count} {line.Label.ToLowerInvariant()} ({Say(100 * line.Share)} %)", indent: 12);
        }

        paper.Heading("For crew");
        foreach (var note in found.Galleys)
        {
            paper.Text($"{note.Layout}: {note.Words}", indent: 12);
        }

        if (found.Galleys.Count == 0)
        {
            paper.Text("Too few blockages in any galley to say something.", indent: 12);
        }
    }

    private static string Shown(double? value) => value is { } number ? Say(number) : "none";
}
