using Drainboard.Domain.Fleet;
using Drainboard.Domain.PotableWater;
using Drainboard.Web.Features.Paper;
using Drainboard.Web.Features.SetUp;
using Drainboard.Web.Shell;

namespace Drainboard.Web.Features.PotableWater;

/// <summary>The report of a non-routine event of drinking water, from what is on record (40 CFR 141.806).</summary>
public sealed class WaterReportQuery(WaterQuery waters, InstallationQuery installations)
{
    /// <returns>Null where there is no such tail or case.</returns>
    public async Task<Draft?> ReadAsync(string registration, Guid id, CancellationToken stop) =>
        Registration.TryParse(registration, out var mark) && await waters.ReadAsync(mark, stop) is { } view && view.Cases.FirstOrDefault(one => one.Id == id) is { } found
            ? Of(view, found, await installations.ReadAsync(stop))
            : null;

    private static Draft Of(WaterView view, WaterCaseView one, InstallationView installation)
    {
        var day = one.ToldAt.InUtc().Date;
        var sets = view.Sets.Where(set => set.Case == one.Id || set.Id == one.From).OrderBy(set => set.CollectedAt).ToArray();
        return new Draft(
            $"Drinking water: report of a non-routine event, {view.Tail}",
            "40 CFR 141.806: notices, and disinfection, flushing or sampling that is not routine, are reported within 10 days of the event.",
            $"By {WaterRule.ReportBy(day):d MMM uuuu} at the latest (the event counts as {day:d MMM uuuu}, UTC).", Notices.Of(installation),
            [
                new("Air carrier and aircraft", [("Air carrier", installation.OperatorName), ("Aircraft", view.Tail), ("Identification of the aircraft water system in the authority's inventory", null), ("Programme", view.Programme is { } kept ? $"{kept.Terms.Title}, version {kept.Number}; {kept.Terms.Manual}" : null), ("Contact", null)]),
                new("Event", [("What", one.What), ("Told or discovered", Times.Utc(one.ToldAt)), ("Circumstances", one.Words.Length > 0 ? one.Words : one.What), ("Way taken (141.803(c)(3))", one.HasWays ? one.Way.Length > 0 ? $"{one.Way}: {WaterWords.Way(one.Way)}" : null : "the rule leaves no choice")]),
                new("What was done", [.. one.Actions.Where(action => action.Act != WaterAct.Report).Select(action => (action.What, action.DoneAt is { } at ? $"{Times.Utc(at)}, {action.DoneBy}" : null))]),
                new("Samples", [.. sets.Select(set => ($"{Times.Capital(set.Purpose.Words())}, collected {Times.Utc(set.CollectedAt)}", (string?)string.Join("; ", set.Samples.Select(sample => $"{sample.Name}: {(sample.EColi == true ? "E. coli-positive" : sample.Coliform == true ? "total coliform-positive" : sample.Coliform == false ? "negative" : "not told yet")}")))), ("Laboratory", null)]),
                new("Access", [("Given back", one.EndedAt is { } ended ? $"{Times.Utc(ended)}. {one.EndedWhy}" : null)]),
            ]);
    }
}
