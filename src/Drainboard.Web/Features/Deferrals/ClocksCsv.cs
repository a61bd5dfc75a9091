using System.Globalization;
using CsvHelper;
using Drainboard.Web.Hosting;
using NodaTime;
using NodaTime.Text;

namespace Drainboard.Web.Features.Deferrals;

/// <summary>The clocks as a table for a spreadsheet: instants in UTC, ISO 8601.</summary>
internal static class ClocksCsv
{
    private static readonly string[] Columns = ["tail", "defect", "position", "fixture", "basis", "revision", "category", "startsAt", "dueAt", "binding", "lapsed", "hoursLeft", "extendedDays", "stationNow", "nextStation", "nextArrivesAt", "lastVisitStation", "lastVisitDepartsAt", "flightsBlocked", "noticeDueAt", "conditionDueAt"];

    public static string Write(ClocksView view, IEnumerable<ClockLine> lines)
    {
        using var text = new StringWriter(CultureInfo.InvariantCulture);
        using var csv = new CsvWriter(text, new CsvHelper.Configuration.CsvConfiguration(CultureInfo.InvariantCulture) { InjectionOptions = CsvHelper.Configuration.InjectionOptions.Escape });
        foreach (var column in Columns)
        {
            csv.WriteField(column);
        }

        csv.NextRecord();
        foreach (var line in lines)
        {
            WriteLine(csv, view.Now, line);
        }

        csv.Flush();
        return text.ToString();
    }

    private static void WriteLine(CsvWriter csv, Instant now, ClockLine line)
    {
        csv.WriteField(line.Tail);
        csv.WriteField(line.Number);
        csv.WriteField(line.Position);
        csv.WriteField(line.FixtureName);
        csv.WriteField(line.BasisCode);
        csv.WriteField(line.Revision);
        csv.WriteField(line.Category?.ToString());
        csv.WriteField(At(line.Clock?.StartsAt));
        csv.WriteField(At(line.Clock?.DueAt));
        csv.WriteField(line.Clock is null ? "" : System.Text.Json.JsonNamingPolicy.CamelCase.ConvertName(line.Clock.Binding.ToString()));
        csv.WriteField(line.Clock is null ? "" : line.Clock.Lapsed ? "yes" : "no");
        csv.WriteField(line.Clock is { } clock ? (clock.DueAt - now).TotalHours.ToString("0.00", Words.Culture) : "");
        csv.WriteField(line.ExtendedDays);
        csv.WriteField(line.Here?.Station);
        csv.WriteField(line.Next.Count > 0 ? line.Next[0].Station : "");
        csv.WriteField(At(line.Next.Count > 0 ? line.Next[0].ArrivesAt : null));
        csv.WriteField(line.LastVisit?.Station);
        csv.WriteField(At(line.LastVisit?.DepartsAt));
        csv.WriteField(line.BlockedCount);
        csv.WriteField(At(line.NotifyBy));
        csv.WriteField(At(line.ConditionDueAt));
        csv.NextRecord();
    }

    private static string At(Instant? at) => at is { } instant ? InstantPattern.ExtendedIso.Format(instant) : "";
}
