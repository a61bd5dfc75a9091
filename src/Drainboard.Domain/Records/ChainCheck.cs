using System.Text.Json;
using NodaTime.Text;

namespace Drainboard.Domain.Records;

/// <summary>Walks one chain in order and names the first entry that does not follow from the one before.</summary>
public sealed class ChainCheck(ChainKey chain)
{
    private long _number;
    private string _hash = RecordEntry.BeforeFirst;
    private readonly List<string> _hashes = [];

    public long Entries => _number;

    public string Head => _hash;

    /// <summary>The hash of an entry that held; null where none of that number has been taken.</summary>
    public string? HashOf(long number) => number >= 1 && number <= _hashes.Count ? _hashes[(int)number - 1] : null;

    /// <summary>The break, or null while the chain holds. Feed entries by rising number; a signer that was erased is not compared.</summary>
    public ChainBreak? Take(RecordEntry entry, RecordSigner? signer = null)
    {
        if (entry.Chain != chain)
        {
            return Break(entry, "wrong-chain", $"belongs to {entry.Chain}");
        }

        if (entry.Number != _number + 1)
        {
            return Break(entry, "gap", $"follows entry {_number}: {(entry.Number > _number + 1 ? "entries between are missing" : "a number stands twice")}");
        }

        if (entry.PreviousHash != _hash)
        {
            return Break(entry, "not-linked", "does not carry the hash of the entry before it");
        }

        if (RecordEntry.HashOf(entry.PreviousHash, entry.Payload) != entry.Hash)
        {
            return Break(entry, "changed", "its text does not give its hash: it was changed after it was written");
        }

        if (!SaysWhatIsSealed(entry, signer))
        {
            return Break(entry, "columns-differ", "its columns or its signer say something else than its sealed text");
        }

        (_number, _hash) = (entry.Number, entry.Hash);
        _hashes.Add(_hash);
        return null;
    }

    private static bool SaysWhatIsSealed(RecordEntry entry, RecordSigner? signer)
    {
        using var sealedText = JsonDocument.Parse(entry.Payload);
        var root = sealedText.RootElement;
        return root.GetProperty("at").GetString() == InstantPattern.ExtendedIso.Format(entry.At)
            && root.GetProperty("chain").GetString() == entry.Chain.Value
            && root.GetProperty("number").GetInt64() == entry.Number
            && root.GetProperty("kind").GetString() == entry.Kind
            && root.GetProperty("subject").GetString() == entry.Subject.ToString()
            && root.GetProperty("words").GetString() == entry.Words
            && (signer is not { Name: { } name, Salt: { } salt } || root.GetProperty("by").GetString() == RecordSigner.HashOf(salt, name, signer.Number));
    }

    private ChainBreak Break(RecordEntry entry, string kind, string words) =>
        new(chain, entry.Number, kind, $"Entry {entry.Number} of {chain} {words}.");
}
