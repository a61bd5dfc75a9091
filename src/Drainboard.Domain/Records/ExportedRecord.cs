using System.Text.Json;
using NodaTime.Text;

namespace Drainboard.Domain.Records;

/// <summary>
/// A chain as it is handed to an outsider: JSON Lines. The first line says what it is; then one line for each entry with its payload, hashes
/// and, where not erased, the name and salt behind the payload's "by"; the last line, where there is a seal, proves the chain's sealed head to be in it.
/// What is in it can be checked with SHA-256 alone; docs/verify.html does so in a browser, without our code.
/// </summary>
public static class ExportedRecord
{
    public const string Format = "drainboard-record-1";

    public static string HeadLine(ChainKey chain) => CanonicalJson.Write(new Dictionary<string, object> { ["chain"] = chain.Value, ["format"] = Format });

    public static string Line(RecordEntry entry, RecordSigner? signer)
    {
        var line = new Dictionary<string, object> { ["hash"] = entry.Hash, ["number"] = entry.Number, ["payload"] = entry.Payload, ["previous"] = entry.PreviousHash };
        if (signer is { Name: { } name, Salt: { } salt })
        {
            line["signer"] = signer.Number is { } number ? new Dictionary<string, object> { ["name"] = name, ["number"] = number, ["salt"] = salt } : new Dictionary<string, object> { ["name"] = name, ["salt"] = salt };
        }

        return CanonicalJson.Write(line);
    }

    /// <summary>Checks an export from its first line to its last, and names the first thing that does not hold.</summary>
    /// <returns>How many entries hold, up to which one the seal in it proves them, its root, and the first break.</returns>
    public static (long Entries, long Sealed, string? SealRoot, string? Break) Check(IEnumerable<string> lines)
    {
        ChainCheck? check = null;
        string? root = null;
        long covered = 0;
        var at = 0;
        foreach (var line in lines.Where(line => line.Trim().Length > 0))
        {
            at++;
            try
            {
                using var json = JsonDocument.Parse(line);
                if (check is null)
                {
                    if (json.RootElement.GetProperty("format").GetString() != Format)
                    {
                        return (0, 0, null, $"Line 1 is not the head of an export ({Format}).");
                    }

                    check = new ChainCheck(ChainKey.Stored(json.RootElement.GetProperty("chain").GetString()!));
                }
                else if (json.RootElement.TryGetProperty("seal", out _))
                {
                    if (WhyNotSealed(json.RootElement, check) is { } broken)
                    {
                        return (check.Entries, 0, null, broken);
                    }

                    (covered, root) = (json.RootElement.GetProperty("entry").GetInt64(), json.RootElement.GetProperty("root").GetString());
                }
                else if (check.Take(Read(json.RootElement), SignerOf(json.RootElement, check.Entries + 1)) is { } broken)
                {
                    return (check.Entries, 0, null, broken.Words);
                }
            }
            catch (Exception failure) when (failure is JsonException or KeyNotFoundException or InvalidOperationException or FormatException or UnparsableValueException)
            {
                return (check?.Entries ?? 0, 0, null, $"Line {at} is no line of an export: {failure.Message}");
            }
        }

        return (check?.Entries ?? 0, covered, root, check is null ? "There is nothing in it." : null);
    }

    /// <summary>An entry as its line has it; whether it holds is another question.</summary>
    public static RecordEntry Read(JsonElement line)
    {
        var payload = line.GetProperty("payload").GetString()!;
        using var said = JsonDocument.Parse(payload);
        var root = said.RootElement;
        return RecordEntry.Stored(
            ChainKey.Stored(root.GetProperty("chain").GetString()!), line.GetProperty("number").GetInt64(), InstantPattern.ExtendedIso.Parse(root.GetProperty("at").GetString()!).Value, root.GetProperty("kind").GetString()!,
            Guid.Parse(root.GetProperty("subject").GetString()!), root.GetProperty("words").GetString()!, payload, line.GetProperty("previous").GetString()!, line.GetProperty("hash").GetString()!);
    }

    private static RecordSigner? SignerOf(JsonElement line, long number) => line.TryGetProperty("signer", out var signer)
        ? new RecordSigner(default, number, default, signer.GetProperty("name").GetString()!, signer.TryGetProperty("number", out var held) ? held.GetString() : null, signer.GetProperty("salt").GetString()!)
        : null;

    // The sealed head is an entry of the chain, not always its last: the chain grows on.
    private static string? WhyNotSealed(JsonElement seal, ChainCheck check)
    {
        var (leaf, number) = (seal.GetProperty("leaf").GetString()!, seal.GetProperty("entry").GetInt64());
        using var said = JsonDocument.Parse(leaf);
        var steps = seal.GetProperty("path").EnumerateArray().Select(step => Convert.FromHexString(step.GetString()!)).ToArray();
        return number > check.Entries ? $"The seal took entry {number}, and only {check.Entries} are here."
            : said.RootElement.GetProperty("hash").GetString() != check.HashOf(number) || said.RootElement.GetProperty("number").GetInt64() != number ? $"The seal took another entry {number} than the one here."
            : !MerkleTree.IsIncluded(MerkleTree.LeafHash(System.Text.Encoding.UTF8.GetBytes(leaf)), seal.GetProperty("leafIndex").GetInt64(), seal.GetProperty("leaves").GetInt64(), steps, Convert.FromHexString(seal.GetProperty("root").GetString()!)) ? "The proof does not lead from the sealed entry to the seal's root."
            : null;
    }
}
