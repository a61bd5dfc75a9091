using NodaTime;

namespace Drainboard.Domain.Deferrals;

/// <summary>
/// By when the authority is told of an extension: so many hours after it, or by the end of so many working days after it. Exactly one
/// is given. Working days are Monday to Friday in the zone of the clock; public holidays are not known here and do not move it.
/// </summary>
public sealed record NotifyRule(int? Hours, int? WorkingDays)
{
    public Instant Deadline(Instant extendedAt, DateTimeZone zone)
    {
        if (Hours is { } hours)
        {
            return extendedAt + Duration.FromHours(hours);
        }

        var day = extendedAt.InZone(zone).Date;
        for (var left = WorkingDays ?? 0; left > 0;)
        {
            day = day.PlusDays(1);
            if (day.DayOfWeek is not (IsoDayOfWeek.Saturday or IsoDayOfWeek.Sunday))
            {
                left--;
            }
        }

        return CalendarDays.StartOf(zone, day.PlusDays(1));
    }

    public string Words => Hours is { } hours ? $"{hours} hours" : WorkingDays == 1 ? "one working day" : $"{WorkingDays} working days";
}
