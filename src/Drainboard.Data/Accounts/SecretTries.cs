using NodaTime;

namespace Drainboard.Data.Accounts;

/// <summary>Which secret of a person is tried.</summary>
public enum SecretKind
{
    SigningCode,
    Pin,

    /// <summary>PINs tried at one device, of whomever.</summary>
    PinAtDevice,

    Password,
}

/// <summary>Wrong tries of one secret of one person, or of everybody's at one device, and until when none is looked at.</summary>
public sealed class SecretTries
{
    private SecretTries()
    {
    }

    public SecretTries(Guid whose, SecretKind kind) => (Whose, Kind) = (whose, kind);

    /// <summary>The person; the device for <see cref="SecretKind.PinAtDevice"/>.</summary>
    public Guid Whose { get; private set; }

    public SecretKind Kind { get; private set; }

    public int Tries { get; private set; }

    public Instant? LockedUntil { get; private set; }
}
