using CsCheck;
using Drainboard.Domain.Records;
using Drainboard.Domain.Tests.Situations;

namespace Drainboard.Domain.Tests.Records;

public sealed class RecordTests
{
    /// <summary>RFC 8785, section 3.2.3: members are ordered by UTF-16 code units. The RFC's own sample names, with short values.</summary>
    [Fact]
    public void Write_SampleOfRfc8785_OrdersByUtf16CodeUnits()
    {
        var members = new Dictionary<string, object>
        {
            ["\u20ac"] = "Euro Sign",
            ["\r"] = "Carriage Return",
            ["\ufb33"] = "Hebrew Letter Dalet With Dagesh",
            ["1"] = "One",
            ["\ud83d\ude00"] = "Emoji: Grinning Face",
            ["\u0080"] = "Control",
            ["\u00f6"] = "Latin Small Letter O With Diaeresis",
        };

        Assert.Equal("{\"\\r\":\"Carriage Return\",\"1\":\"One\",\"\u0080\":\"Control\",\"\u00f6\":\"Latin Small Letter O With Diaeresis\",\"\u20ac\":\"Euro Sign\",\"\ud83d\ude00\":\"Emoji: Grinning Face\",\"\ufb33\":\"Hebrew Letter Dalet With Dagesh\"}", CanonicalJson.Write(members));
    }

    /// <summary>RFC 8785, section 3.2.2.2: the string of its example, with the shortest escapes.</summary>
    [Fact]
    public void Write_StringOfRfc8785_UsesTheShortestEscapes() =>
        Assert.Equal("{\"string\":\"\u20ac$\\u000f\\nA'B\\\"\\\\\\\\\\\"/\"}", CanonicalJson.Write(new Dictionary<string, object> { ["string"] = "\u20ac$\u000F\nA'B\"\\\\\"/" }));

    [Theory]
    [InlineData(1)]
    public void Write_WhatJsonDoesNotHoldExactly_Throws(object value) =>
        Assert.Throws<ArgumentException>(() => CanonicalJson.Write(new Dictionary<string, object> { ["x"] = value }));

    [Fact]
    public void Write_HalfASurrogate_Throws() => Assert.Throws<ArgumentException>(() => CanonicalJson.Write(new Dictionary<string, object> { ["x"] = "\ud83d" }));

    [Fact]
    public void Take_WholeChain_Holds()
    {
        var check = new ChainCheck(ChainKey.For(Cabin.Tail));

        Assert.All(Chain(20), entry => Assert.Null(check.Take(entry)));
        Assert.Equal(20, check.Entries);
    }

    /// <summary>Leaving out, doubling or swapping any entries of a chain is always found.</summary>
    [Fact]
    public void Take_ChainWithEntriesMoved_IsAlwaysFound() =>
        Gen.Select(Gen.Int[0, 19], Gen.Int[0, 19], Gen.Int[0, 2]).Sample((a, b, how) =>
        {
            var entries = Chain(20);
            switch (how)
            {
                case 0 when a < 19:
                    entries.RemoveAt(a);
                    break;
                case 1:
                    entries.Insert(a, entries[a]);
                    break;
                default:
                    if (a == b)
                    {
                        return true;
                    }

                    (entries[a], entries[b]) = (entries[b], entries[a]);
                    break;
            }

            var check = new ChainCheck(ChainKey.For(Cabin.Tail));
            return entries.Any(entry => check.Take(entry) is not null);
        });

    private static List<RecordEntry> Chain(int length)
    {
        var entries = new List<RecordEntry>();
        for (var number = 1; number <= length; number++)
        {
            var fact = new Fact(ChainKey.For(Cabin.Tail), "test", Guid.Empty, $"Entry {number}.").With("n", number);
            entries.Add(RecordEntry.Seal(fact, number, entries.Count == 0 ? RecordEntry.BeforeFirst : entries[^1].Hash, RecordSigner.HashOf("salt", "name", null), Cabin.Now + Duration.FromMinutes(number)));
        }

        return entries;
    }
}
