using Drainboard.Domain.Fleet;
using Drainboard.Domain.Records;
using NodaTime;

namespace Drainboard.Domain.Tests.Records;

public sealed class ExportedRecordTests
{
    [Fact]
    public void Check_OfWhatWasExported_HoldsAndProvesTheSeal()
    {
        var (lines, seal) = Export();
        Assert.Equal((3, 3, seal, null), ExportedRecord.Check(lines));
    }

    [Theory]
    [InlineData(1, "drains slowly", "drains well", "Entry 1")]
    [InlineData(2, "\"number\":2", "\"number\":3", "Entry 3")]
    [InlineData(3, "Person 3", "Person 4", "Entry 3")]
    public void Check_OfALineThatWasAltered_NamesIt(int line, string before, string after, string named)
    {
        var (lines, _) = Export();
        lines[line] = lines[line].Replace(before, after, StringComparison.Ordinal);
        var (_, _, _, broken) = ExportedRecord.Check(lines);
        Assert.StartsWith(named, broken, StringComparison.Ordinal);
    }

    [Fact]
    public void Check_WithTheSealedEntryCutOff_SaysSo()
    {
        var (lines, _) = Export();
        lines.RemoveAt(3);
        Assert.Equal("The seal took entry 3, and only 2 are here.", ExportedRecord.Check(lines).Break);
    }

    [Theory]
    [InlineData("", "There is nothing in it.")]
    [InlineData("{}", "Line 1 is no line of an export")]
    [InlineData("not json", "Line 1 is no line of an export")]
    public void Check_OfSomethingElse_SaysSo(string text, string words) => Assert.StartsWith(words, ExportedRecord.Check([text]).Break, StringComparison.Ordinal);

    private static (List<string> Lines, string Root) Export()
    {
        var chain = ChainKey.For(new TailId(new Guid("00000000-0000-7000-8000-000000000007")));
        List<string> lines = [ExportedRecord.HeadLine(chain)];
        var previous = RecordEntry.BeforeFirst;
        for (var number = 1; number <= 3; number++)
        {
            var (salt, name) = ($"{number:x32}", $"Person {number}");
            var entry = RecordEntry.Seal(new Fact(chain, "defect.reported", Guid.Empty, "drains slowly, \"café\""), number, previous, RecordSigner.HashOf(salt, name, null), Instant.FromUtc(2026, 1, 26, 10, number));
            lines.Add(ExportedRecord.Line(entry, new RecordSigner(chain, number, default, name, null, salt)));
            previous = entry.Hash;
        }

        SealedHead[] heads = [new(0, 1, ChainKey.Operator, 1, new string('a', 64)), new(1, 1, chain, 3, previous), new(2, 1, ChainKey.Stored("station:QQAA"), 4, new string('b', 64))];
        var seal = FleetSeal.Over(heads, 1, Instant.FromUtc(2026, 1, 27, 0, 0));
        var path = MerkleTree.Inclusion(1, [.. heads.Select(head => head.LeafHash())]).Select(Convert.ToHexStringLower).ToArray();
        lines.Add(CanonicalJson.Write(new Dictionary<string, object> { ["entry"] = 3L, ["leaf"] = heads[1].Leaf, ["leafIndex"] = 1L, ["leaves"] = 3L, ["path"] = path, ["root"] = seal.Root, ["seal"] = 1L }));
        return (lines, seal.Root);
    }
}
