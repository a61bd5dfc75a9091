using Drainboard.Web.Hosting;
using NodaTime.Text;

namespace Drainboard.Web.Features.Reliability;

/// <summary>The numbers behind each page and plot, for a spreadsheet.</summary>
internal static class ReliabilityCsv
{
    public static string Of(RepeatsView view) => CsvText.Of(
        ["snapshot", "rank", "scope", "tail", "layout", "position", "name", "kind", "family", "events", "exposure", "unit", "ratePerThousand", "low95", "high95", "fleetPerThousand", "timesRest", "atLeast", "pWorse", "pAdjusted", "excess", "flagged"],
        view.Lines.Select(IEnumerable<string?> (line) =>
        [
            Whole(view.Snapshot?.Number ?? 0), Whole(line.Rank), Asked.Camel(line.Scope), line.Tail, line.Layout, line.Position, line.Name, Asked.Camel(line.Kind), Asked.Camel(line.Family), Whole(line.Events), Number(line.Exposure), Asked.Camel(view.Snapshot?.Unit),
            Number(line.RatePerThousand), Number(line.LowPerThousand), Number(line.HighPerThousand), Number(line.FleetPerThousand), Number(line.TimesRest), Number(line.AtLeast), Number(line.PWorse), Number(line.PAdjusted), Number(line.Excess), line.Flagged ? "yes" : "no",
        ]));

    public static string Of(CausesView view) => CsvText.Of(["what", "count", "share", "running"], view.Lines.Select(IEnumerable<string?> (line) => [line.Label, Whole(line.Count), Number(line.Share), Number(line.Running)]));

    public static string Of(MonthsView view) => CsvText.Of(
        ["month", "events", "exposure", "unit", "ratePerThousand", "low95", "high95", "running3", "running12", "level", "alert"],
        view.Lines.Select(IEnumerable<string?> (line) => [line.Month, Whole(line.Events), Number(line.Exposure), Asked.Camel(view.Unit), Number(line.Rate), Number(line.Low), Number(line.High), Number(line.Running3), Number(line.Running12), Number(line.Level), line.Alert ? "yes" : "no"]));

    public static string Of(LivesView view) => CsvText.Of(["days", "blocked"], view.Ages.Select(IEnumerable<string?> (age) => [Number(age.Time), age.Blocked ? "yes" : "no"]));

    public static string Of(FixtureRepeats view) => CsvText.Of(
        ["at", "day", "number", "fleetAtRisk", "fleetMean", "fleetLow95", "fleetHigh95"],
        view.Days.Index().Select(IEnumerable<string?> (one) => [InstantPattern.ExtendedIso.Format(view.From + NodaTime.Duration.FromDays(one.Item)), Number(one.Item), Whole(one.Index + 1), "", "", "", ""])
            .Concat(view.Fleet.Select(IEnumerable<string?> (step) => ["", Number(step.Day), "", Whole(step.AtRisk), Number(step.Mean), Number(step.Low), Number(step.High)])));

    public static string Of(PlaceRepeats view) => CsvText.Of(
        ["series", "day", "atRisk", "mean", "low95", "high95"],
        Steps("here", view.Own).Concat(Steps("like places", view.Fleet)));

    private static IEnumerable<IEnumerable<string?>> Steps(string series, IReadOnlyList<CumulativeStep> steps) =>
        steps.Select(IEnumerable<string?> (step) => [series, Number(step.Day), Whole(step.AtRisk), Number(step.Mean), Number(step.Low), Number(step.High)]);

    private static string Whole(int number) => number.ToString(Words.Culture);

    private static string Number(double? value) => CsvText.Number(value);
}
