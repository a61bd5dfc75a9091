using System.Security.Cryptography;
using System.Text;
using Drainboard.Domain.Accounts;
using NodaTime;

namespace Drainboard.Data.Accounts;

/// <summary>
/// A key for another program. It acts for one person, and for no more than its scopes. Shown once; only the SHA-256 of its
/// secret is kept (256 random bits need no slow hash).
/// </summary>
public sealed class ApiKey
{
    /// <summary>Then a program is given a new one (our choice: once a year, with some days over). A key that was made without an end before this was so goes on until it is revoked.</summary>
    public static readonly Duration Longest = Duration.FromDays(400);

    private ApiKey()
    {
    }

    public ApiKey(Guid id, string name, PersonId person, IEnumerable<ApiScope> scopes, Instant createdAt, Instant expiresAt, string secret)
    {
        (Id, Name, Person, CreatedAt, ExpiresAt) = (id, name, person, createdAt, expiresAt);
        Scopes = [.. scopes.Distinct().Order()];
        SecretHash = HashOf(secret);
    }

    public Guid Id { get; private set; }

    public string Name { get; private set; } = "";

    public PersonId Person { get; private set; }

    public IReadOnlyList<ApiScope> Scopes { get; private set; } = [];

    public string SecretHash { get; private set; } = "";

    public Instant CreatedAt { get; private set; }

    public Instant? ExpiresAt { get; private set; }

    public Instant? RevokedAt { get; private set; }

    public long Version { get; private set; }

    /// <summary>A new secret, to be shown once: "db1." and 32 random bytes in URL-safe base 64.</summary>
    public static string NewSecret() =>
        "db1." + Convert.ToBase64String(RandomNumberGenerator.GetBytes(32)).Replace('+', '-').Replace('/', '_').TrimEnd('=');

    public static string HashOf(string secret) => Convert.ToHexStringLower(SHA256.HashData(Encoding.UTF8.GetBytes(secret)));

    public bool IsGoodAt(Instant now) => RevokedAt is null && (ExpiresAt is null || now < ExpiresAt);

    public void Revoke(Instant now) => RevokedAt ??= now;
}
