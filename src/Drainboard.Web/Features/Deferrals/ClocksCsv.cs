using Drainboard.Web.Hosting;
using NodaTime;
using NodaTime.Text;

namespace Drainboard.Web.Features.Deferrals;

/// <summary>The clocks as a table for a spreadsheet: instants in UTC, ISO 8601.</summary>
internal static class ClocksCsv
{
    private static readonly string[] Columns = ["tail", "defect", "position", "fixture", "basis", "revision", "category", "running", "startsAt", "dueAt", "binding", "lapsed", "hoursLeft", "extendedDays", "stationNow", "nextStation", "nextArrivesAt", "lastVisitStation", "lastVisitDepartsAt", "flightsBlockedWithinAWeek", "noticeDueAt", "conditionDueAt"];

    public static string Write(ClocksView view, IEnumerable<ClockLine> lines) => CsvText.Of(Columns, lines.Select(line => Row(view.Now, line)));

    private static IEnumerable<string?> Row(Instant now, ClockLine line) =>
    [
        line.Tail, Whole(line.Number), line.Position, line.FixtureName, line.BasisCode, line.Revision, line.Category?.ToString(), line.Running ? "yes" : "no",
        At(line.Clock?.StartsAt), At(line.Clock?.DueAt), line.Clock is null ? "" : System.Text.Json.JsonNamingPolicy.CamelCase.ConvertName(line.Clock.Binding.ToString()),
        line.Clock is null ? "" : line.Clock.Lapsed ? "yes" : "no", line.Clock is { } clock ? (clock.DueAt - now).TotalHours.ToString("0.00", Words.Culture) : "", Whole(line.ExtendedDays),
        line.Here?.Station, line.Next.Count > 0 ? line.Next[0].Station : "", At(line.Next.Count > 0 ? line.Next[0].ArrivesAt : null), line.LastVisit?.Station, At(line.LastVisit?.DepartsAt),
        Whole(line.BlockedCount), At(line.NotifyBy), At(line.ConditionDueAt),
    ];

    private static string Whole(int number) => number.ToString(Words.Culture);

    private static string At(Instant? at) => at is { } instant ? InstantPattern.ExtendedIso.Format(instant) : "";
}
