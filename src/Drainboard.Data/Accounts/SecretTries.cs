using NodaTime;

namespace Drainboard.Data.Accounts;

/// <summary>Which secret of a person is tried.</summary>
public enum SecretKind
{
    SigningCode,
    Pin,
}

/// <summary>Wrong tries in a row of one secret of one person, and until when none is looked at.</summary>
public sealed class SecretTries
{
    private SecretTries()
    {
    }

    public SecretTries(Guid person, SecretKind kind) => (Person, Kind) = (person, kind);

    public Guid Person { get; private set; }

    public SecretKind Kind { get; private set; }

    public int Tries { get; private set; }

    public Instant? LockedUntil { get; private set; }
}
