using System.Security.Cryptography;
using System.Text;
using Drainboard.Domain.Accounts;

namespace Drainboard.Domain.Records;

/// <summary>
/// Who stands behind one entry, beside the chain. <see cref="Name"/> and <see cref="Number"/> become null when a person is
/// erased where law demands; the chain holds only the salted hash and stays whole.
/// </summary>
public sealed class RecordSigner
{
    private RecordSigner()
    {
    }

    public RecordSigner(ChainKey chain, long entryNumber, PersonId person, string name, string? number, string salt)
    {
        (Chain, EntryNumber, Person, Name, Number, Salt) = (chain, entryNumber, person, name, number, salt);
    }

    public ChainKey Chain { get; private set; }

    public long EntryNumber { get; private set; }

    public PersonId Person { get; private set; }

    public string? Name { get; private set; }

    public string? Number { get; private set; }

    public string? Salt { get; private set; }

    /// <summary>The hash that the payload carries: SHA-256 of salt, name and number, each ended by a line feed.</summary>
    public static string HashOf(string salt, string name, string? number) =>
        Convert.ToHexStringLower(SHA256.HashData(Encoding.UTF8.GetBytes($"{salt}\n{name}\n{number}\n")));
}
