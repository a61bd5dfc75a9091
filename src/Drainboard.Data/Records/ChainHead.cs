using Drainboard.Domain.Records;

namespace Drainboard.Data.Records;

/// <summary>The newest entry of a chain. Its row is locked while entries are added, so numbers have no gaps and no doubles.</summary>
public sealed class ChainHead
{
    private ChainHead()
    {
    }

    public ChainHead(ChainKey chain) => Chain = chain;

    /// <summary>As it is stored.</summary>
    public ChainHead(ChainKey chain, long number, string hash)
        : this(chain) => (Number, Hash) = (number, hash);

    public ChainKey Chain { get; private set; }

    public long Number { get; private set; }

    public string Hash { get; private set; } = RecordEntry.BeforeFirst;

    public void Advance(RecordEntry entry) => (Number, Hash) = (entry.Number, entry.Hash);
}
