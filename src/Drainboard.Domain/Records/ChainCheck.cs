using Drainboard.Domain.Accounts;

namespace Drainboard.Domain.Records;

/// <summary>Walks one chain in order and names the first entry that does not follow from the one before.</summary>
public sealed class ChainCheck(ChainKey chain)
{
    private long _number;
    private string _hash = RecordEntry.BeforeFirst;

    public long Entries => _number;

    public string Head => _hash;

    /// <summary>The break, or null while the chain holds. Feed entries by rising number.</summary>
    public ChainBreak? Take(RecordEntry entry)
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

        if (!entry.Payload.Contains($"\"kind\":\"{entry.Kind}\",\"number\":{entry.Number},\"subject\":\"{entry.Subject}\"", StringComparison.Ordinal))
        {
            return Break(entry, "columns-differ", "its columns say something else than its sealed text");
        }

        (_number, _hash) = (entry.Number, entry.Hash);
        return null;
    }

    private ChainBreak Break(RecordEntry entry, string kind, string words) =>
        new(chain, entry.Number, kind, $"Entry {entry.Number} of {chain} {words}.");
}
