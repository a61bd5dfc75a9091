using NodaTime;

namespace Drainboard.Domain.Rectification;

/// <summary>
/// When a service difficulty report is due (14 CFR 121.703(d)): the reporting day runs from 09:00 to 09:00 local, the report is sent within the 96
/// hours after its end, and what falls due on a Saturday or Sunday may go on the Monday, on a holiday on the next work day.
/// </summary>
/// <param name="DayEnds">The end of the reporting day: the first 09:00 local after it was found; found at 09:00 sharp, the next day's.</param>
/// <param name="DueAt">96 hours later, or the end of the day that the weekend or a holiday moves it to.</param>
public sealed record ServiceDifficulty(ZonedDateTime DayEnds, ZonedDateTime DueAt)
{
    private static readonly LocalTime Nine = new(9, 0);
    private static readonly Duration ToSend = Duration.FromHours(96);

    /// <param name="holidays">Days on which the authority does not work; the operator knows them.</param>
    public static ServiceDifficulty Of(Instant found, DateTimeZone zone, IReadOnlyCollection<LocalDate> holidays)
    {
        var local = found.InZone(zone);
        var ends = ((local.TimeOfDay < Nine ? local.Date : local.Date.PlusDays(1)) + Nine).InZoneLeniently(zone);
        var due = (ends.ToInstant() + ToSend).InZone(zone);
        var day = due.Date;
        while (day.DayOfWeek is IsoDayOfWeek.Saturday or IsoDayOfWeek.Sunday || holidays.Contains(day))
        {
            day = day.PlusDays(1);
        }

        return new ServiceDifficulty(ends, day == due.Date ? due : (day.PlusDays(1).AtStartOfDayInZone(zone).ToInstant() - Duration.FromSeconds(1)).InZone(zone));
    }
}
