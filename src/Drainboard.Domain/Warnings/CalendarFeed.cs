using Drainboard.Domain.Accounts;
using Drainboard.Domain.Fleet;
using NodaTime;

namespace Drainboard.Domain.Warnings;

/// <summary>
/// A calendar of due times that a person subscribes to by an address with a secret in it. Only the secret's SHA-256 is kept; revoked, the
/// address is dead. It shows what the person behind it may see, and nothing once the account is closed.
/// </summary>
public sealed class CalendarFeed
{
    private CalendarFeed()
    {
    }

    public CalendarFeed(Guid id, string name, PersonId person, StationCode? station, string secretHash, Instant at) =>
        (Id, Name, Person, Station, SecretHash, At) = (id, name, person, station, secretHash, at);

    public Guid Id { get; private set; }

    public string Name { get; private set; } = "";

    public PersonId Person { get; private set; }

    /// <summary>Tails that are or come next here; null is the whole fleet.</summary>
    public StationCode? Station { get; private set; }

    public string SecretHash { get; private set; } = "";

    public Instant At { get; private set; }

    public Instant? RevokedAt { get; private set; }

    public long Version { get; private set; }

    public void Revoke(Instant now) => RevokedAt ??= now;
}
