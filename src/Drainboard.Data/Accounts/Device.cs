using System.Security.Cryptography;
using Drainboard.Domain;
using Drainboard.Domain.Accounts;
using Drainboard.Domain.Fleet;
using NodaTime;

namespace Drainboard.Data.Accounts;

/// <summary>
/// A shared tablet. It is enrolled once, with a code that works once, for the operator, for one station or for one tail. Only the SHA-256
/// of its secret is kept. By itself it may do nothing: a person is chosen and gives a PIN.
/// </summary>
public sealed class Device
{
    /// <summary>How long an enrolment code is good (our choice).</summary>
    public static readonly Duration CodeLife = Duration.FromHours(24);

    // No letter or digit that is taken for another.
    private const string CodeLetters = "ABCDEFGHJKMNPQRSTUVWXYZ23456789";
    private const int CodeLength = 12;

    private Device()
    {
    }

    public Device(Guid id, string name, StationCode? station, Registration? onlyTail, string code, Instant at) =>
        (Id, Name, Station, OnlyTail, CodeHash, CodeUntil, MadeAt) = (id, name, station, onlyTail?.Value ?? "", ApiKey.HashOf(code), at + CodeLife, at);

    public Guid Id { get; private set; }

    public string Name { get; private set; } = "";

    public StationCode? Station { get; private set; }

    /// <summary>The one tail it stays on board of; empty otherwise.</summary>
    public string OnlyTail { get; private set; } = "";

    /// <summary>Null once it was used.</summary>
    public string? CodeHash { get; private set; }

    public Instant CodeUntil { get; private set; }

    public string? SecretHash { get; private set; }

    public Instant MadeAt { get; private set; }

    public Instant? EnrolledAt { get; private set; }

    public Instant? RevokedAt { get; private set; }

    public long Version { get; private set; }

    public bool IsGood => RevokedAt is null && EnrolledAt is not null;

    public ActingDevice AsActing() => new(Id, Name);

    /// <summary>A new code to type once: twelve letters and digits (59 random bits).</summary>
    public static string NewCode() => RandomNumberGenerator.GetString(CodeLetters, CodeLength);

    /// <summary>A code as a person types it: case, blanks and hyphens do not matter.</summary>
    public static string HashOfCode(string typed) => ApiKey.HashOf(new string([.. typed.ToUpperInvariant().Where(char.IsLetterOrDigit)]));

    public Refusal? Enrol(string secret, Instant now)
    {
        if (RevokedAt is not null || CodeHash is null || now > CodeUntil)
        {
            return new Refusal("enrolment-code", "This code was used already, is older than 24 hours, or was withdrawn. An administrator makes a new one on Set-up, Devices.");
        }

        (CodeHash, SecretHash, EnrolledAt) = (null, ApiKey.HashOf(secret), now);
        return null;
    }

    /// <summary>A new code for the same device: for a tablet that was reset. Its old secret opens nothing from now on.</summary>
    public void EnrolAgain(string code, Instant now) => (CodeHash, CodeUntil, SecretHash, EnrolledAt) = (ApiKey.HashOf(code), now + CodeLife, null, null);

    public void Revoke(Instant now) => RevokedAt ??= now;
}
