using NodaTime;

namespace Drainboard.Web.Hosting;

/// <summary>PostgreSQL keeps microseconds; times are cut to them at the door, so that both databases give back what was sealed.</summary>
internal sealed class MicrosecondClock(IClock inner) : IClock
{
    public Instant GetCurrentInstant() => Cut(inner.GetCurrentInstant());

    public static Instant Cut(Instant at)
    {
        var ticks = at.ToUnixTimeTicks();
        return Instant.FromUnixTimeTicks(ticks - (((ticks % 10) + 10) % 10));
    }
}
