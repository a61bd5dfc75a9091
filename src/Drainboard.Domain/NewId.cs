using NodaTime;

namespace Drainboard.Domain;

/// <summary>Makes the UUID of something that comes into being at a given instant (RFC 9562, version 7).</summary>
public static class NewId
{
    public static Guid At(Instant now) => Guid.CreateVersion7(now.ToDateTimeOffset());
}
