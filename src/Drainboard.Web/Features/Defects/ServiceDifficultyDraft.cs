using Drainboard.Domain.Defects;
using Drainboard.Domain.Fleet;
using Drainboard.Domain.Rectification;
using Drainboard.Web.Features.Paper;
using Drainboard.Web.Features.SetUp;
using Drainboard.Web.Shell;
using NodaTime;

namespace Drainboard.Web.Features.Defects;

/// <summary>A service difficulty report from what is on record of an item (14 CFR 121.703). Whether it is reportable is for the operator to say: a slow drain is not on the list.</summary>
internal static class ServiceDifficultyDraft
{
    public static Draft Of(DefectView item, InstallationView installation)
    {
        var zone = Times.Zone(item.Zone);
        var due = ServiceDifficulty.Of(item.SeenAt, zone, []);
        var work = item.Work.Where(one => one.ReturnReason.Length == 0).MaxBy(one => one.CompletedAt);
        return new Draft(
            $"Service difficulty report, {item.Tail} number {item.Number}",
            "14 CFR 121.703: a failure, malfunction or defect on its list, or one that has endangered or may endanger safe operation. Ordinary slow drains are not listed; decide first whether this is.",
            $"By {due.DueAt.Date:d MMM uuuu} {(due.DueAt.LocalDateTime.TimeOfDay >= new LocalTime(23, 59) ? "(moved from the weekend)" : $"{due.DueAt:HH:mm} local")}: within 96 hours after the reporting day that ends {due.DayEnds:d MMM uuuu HH:mm} ({item.Zone}). A holiday moves it to the next work day.",
            Notices.Of(installation),
            [
                new("Aircraft and operator", [("Operator", installation.OperatorName), ("Registration", item.Tail), ("Make, model and serial number", null), ("Operator's control number", null), ("Submitter", null)]),
                new("When and where", [("Date found", Times.Full(item.SeenAt, item.Zone)), ("Flight number and stage of operation", item.Reports is [{ Phase: not FlightPhase.NotSaid } first, ..] ? $"{(first.Phase == FlightPhase.InFlight ? "in flight" : "on the ground")}; flight number not on record" : null), ("Emergency procedure effected", null)]),
                new("What", [("Nature of the difficulty", item.Symptom.Words()), ("Part of the aircraft", $"{item.FixtureName} ({item.Position})"), ("Code by kind of fixture (titles from memory: check)", CodeOf(item.FixtureKind)), ("Leak", item.Leak.ToString()), ("Description", Story(item))]),
                new("Cause and disposition", [("Apparent cause", work is null ? null : $"{work.Found.Words()} at {work.FoundAt}"), ("What was done", work is { Steps.Count: > 0 } ? string.Join(" ", work.Steps) : null), ("Manual", work?.ManualReference), ("Released", work?.Release is { } release ? $"{release.Name}, {Times.Utc(release.At)}" : null), ("Part number and serial number, total time", null)]),
            ]);
    }

    private static string? Story(DefectView item) => string.Join(" ", item.Story.Take(6).Select(line => line.Words)) is { Length: > 0 } words ? words[..Math.Min(words.Length, 1500)] : null;

    private static string CodeOf(string kind) => Enum.GetValues<FixtureKind>().FirstOrDefault(one => one.Words() == kind, FixtureKind.DrainLine) switch
    {
        FixtureKind.PotableTank or FixtureKind.WaterHeater or FixtureKind.Filter or FixtureKind.UltravioletSteriliser or FixtureKind.CheckValve or FixtureKind.ServicePanel => "3810",
        FixtureKind.CoffeeMaker => "2530",
        _ => "3830",
    };
}
