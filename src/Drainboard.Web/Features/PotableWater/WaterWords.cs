using Drainboard.Domain.PotableWater;
using Drainboard.Web.Shell;
using NodaTime;

namespace Drainboard.Web.Features.PotableWater;

/// <summary>Times of drinking water as people read them.</summary>
internal static class WaterWords
{
    /// <summary>By when, what is left, or that it is over.</summary>
    public static string Due(WaterDue due, string zone, Instant now)
    {
        var hours = due.HoursLeft is { } left ? left < 0 ? $"{-left:0} flight hours over" : $"{left:0} flight hours left" : null;
        var day = due.DueAt is { } at ? By(at, zone, now) : null;
        return due.LastAt is null ? "not on record: due" : string.Join(", ", new[] { day, hours }.OfType<string>());
    }

    /// <summary>A time ahead with what is left of it, or how long it is over.</summary>
    public static string By(Instant at, string zone, Instant now) =>
        at < now ? $"over since {Times.Near(at, zone, now)}" : at - now < Duration.FromDays(4) ? $"by {Times.Near(at, zone, now)}, {Times.Left(at - now)} left" : $"by {at.InZone(Times.Zone(zone)).Date:d MMM uuuu}";

    public static string Way(string way) => way switch
    {
        "i" => "Disinfect and flush within 72 hours; serve only once follow-up samples are collected",
        "ii" => "Restrict access within 72 hours, until it is disinfected and follow-up samples are collected",
        "iii" => "Three repeat samples within 24 hours decide",
        _ => "",
    };
}
