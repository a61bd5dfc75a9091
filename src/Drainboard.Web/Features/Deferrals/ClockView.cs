using Drainboard.Domain.Deferrals;
using NodaTime;

namespace Drainboard.Web.Features.Deferrals;

/// <summary>How much of a clock is left, for the wick: the part left, the days it is notched by, and whether it is short or lapsed.</summary>
public sealed record ClockView(Instant StartsAt, Instant DueAt, ClockUnit Binding, double PartLeft, int Days, bool UnderADay, bool Lapsed)
{
    /// <summary>A running clock as it was last derived; a proposed one shows the clock that would run. Null where there is no interval, or no end yet.</summary>
    public static ClockView? Of(Deferral deferral, Instant now)
    {
        if (deferral.BeganAt is not null)
        {
            return deferral is { StartsAt: { } starts, DueAt: { } due } ? Of(starts, due, deferral.Binding ?? ClockUnit.CalendarDays, now) : null;
        }

        return deferral.ReadClock([]) is { StartsAt: { } from, DueAt: { } to } reading ? Of(from, to, reading.Binding ?? ClockUnit.CalendarDays, now) : null;
    }

    private static ClockView Of(Instant starts, Instant due, ClockUnit binding, Instant now)
    {
        var whole = Math.Max(1, (due - starts).TotalSeconds);
        return new ClockView(starts, due, binding, Math.Clamp((due - now).TotalSeconds / whole, 0, 1), (int)Math.Max(1, Math.Round((due - starts).TotalDays)), now < due && due - now < Duration.FromDays(1), now >= due);
    }
}
