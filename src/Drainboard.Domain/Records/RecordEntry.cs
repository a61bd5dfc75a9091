using System.Security.Cryptography;
using System.Text;
using NodaTime;
using NodaTime.Text;

namespace Drainboard.Domain.Records;

/// <summary>
/// One entry of a chain: the fact in canonical form, and a hash over it and the entry before. Entries are never changed or
/// removed; a correction is another entry. Numbers in a chain run 1, 2, 3 without a gap. The payload says who by a salted hash only;
/// the name and the salt stand in <see cref="RecordSigner"/> and can be erased without breaking the chain.
/// </summary>
public sealed class RecordEntry
{
    private RecordEntry()
    {
    }

    public ChainKey Chain { get; private set; }

    public long Number { get; private set; }

    public Instant At { get; private set; }

    public string Kind { get; private set; } = "";

    public Guid Subject { get; private set; }

    public string Words { get; private set; } = "";

    /// <summary>Canonical JSON of everything above and the fact's fields: what the hash is taken over.</summary>
    public string Payload { get; private set; } = "";

    public string PreviousHash { get; private set; } = "";

    public string Hash { get; private set; } = "";

    /// <summary>The hash that stands before the first entry of every chain: 64 zeros.</summary>
    public static string BeforeFirst { get; } = new('0', 64);

    /// <param name="previousHash">The hash of entry <paramref name="number"/> - 1, or <see cref="BeforeFirst"/>.</param>
    public static RecordEntry Seal(Fact fact, long number, string previousHash, string signerHash, Instant at)
    {
        var payload = CanonicalJson.Write(new Dictionary<string, object>
        {
            ["at"] = InstantPattern.ExtendedIso.Format(at),
            ["by"] = signerHash,
            ["chain"] = fact.Chain.Value,
            ["fields"] = fact.Fields,
            ["kind"] = fact.Kind,
            ["number"] = number,
            ["subject"] = fact.Subject.ToString(),
            ["words"] = fact.Words,
        });
        return new RecordEntry
        {
            Chain = fact.Chain,
            Number = number,
            At = at,
            Kind = fact.Kind,
            Subject = fact.Subject,
            Words = fact.Words,
            Payload = payload,
            PreviousHash = previousHash,
            Hash = HashOf(previousHash, payload),
        };
    }

    /// <summary>An entry as it was stored elsewhere. Nothing is checked here.</summary>
    public static RecordEntry Stored(ChainKey chain, long number, Instant at, string kind, Guid subject, string words, string payload, string previousHash, string hash) =>
        new() { Chain = chain, Number = number, At = at, Kind = kind, Subject = subject, Words = words, Payload = payload, PreviousHash = previousHash, Hash = hash };

    /// <summary>SHA-256 over the 32 bytes of the previous hash followed by the payload's UTF-8, as lower-case hex.</summary>
    public static string HashOf(string previousHash, string payload)
    {
        var bytes = new byte[32 + Encoding.UTF8.GetByteCount(payload)];
        Convert.FromHexString(previousHash).CopyTo(bytes, 0);
        Encoding.UTF8.GetBytes(payload, bytes.AsSpan(32));
        return Convert.ToHexStringLower(SHA256.HashData(bytes));
    }
}
