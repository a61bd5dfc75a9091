using Drainboard.Domain.Fleet;
using Drainboard.Domain.Records;
using NodaTime;

namespace Drainboard.Domain.Tests.Records;

/// <summary>
/// One thing done wrong to a stored record, a thousand times from a fixed seed: a character changed anywhere, an entry deleted, inserted,
/// moved or swapped with another tail's, or the end cut off. Each is found, at the first entry that no longer follows.
/// </summary>
public sealed class MutationTests
{
    private const int Length = 40;
    private static readonly Instant Start = Instant.FromUtc(2026, 1, 1, 0, 0);

    [Fact]
    public void Walk_AfterAnySingleMutation_FindsItWhereItIs()
    {
        var dice = new Random(20260110);
        foreach (var kind in new[] { "payload", "hash", "previous", "words", "kind", "at", "signer", "delete", "insert", "reorder", "truncate", "swap" })
        {
            for (var time = 0; time < 84; time++)
            {
                var (mine, other) = (Chain("aaaa"), Chain("bbbb"));
                var expected = Mutate(kind, mine, other, dice);
                var (found, breakKind) = FirstBreak(mine, Chain("aaaa")[^1].Entry.Hash);

                Assert.True(found == expected, $"{kind}: broken at {expected}, found at {found} ({breakKind})");
            }
        }
    }

    [Fact]
    public void Walk_OfTheRecordAsItWas_FindsNothing() => Assert.Equal((0, null), FirstBreak(Chain("aaaa"), Chain("aaaa")[^1].Entry.Hash));

    /// <returns>The number of the entry at which it must be found.</returns>
    private static long Mutate(string kind, List<(RecordEntry Entry, RecordSigner Signer)> rows, List<(RecordEntry Entry, RecordSigner Signer)> others, Random dice)
    {
        var at = dice.Next(Length);
        var (entry, signer) = rows[at];
        switch (kind)
        {
            case "payload": rows[at] = (With(entry, payload: Twist(entry.Payload, dice)), signer); return at + 1;
            case "hash": rows[at] = (With(entry, hash: Twist(entry.Hash, dice)), signer); return at + 1;
            case "previous": rows[at] = (With(entry, previous: Twist(entry.PreviousHash, dice)), signer); return at + 1;
            case "words": rows[at] = (With(entry, words: Twist(entry.Words, dice)), signer); return at + 1;
            case "kind": rows[at] = (With(entry, kind: Twist(entry.Kind, dice)), signer); return at + 1;
            case "at": rows[at] = (With(entry, at: entry.At + Duration.FromTicks(10 + dice.Next(100_000) * 10L)), signer); return at + 1;
            case "signer": rows[at] = (entry, new RecordSigner(entry.Chain, entry.Number, signer.Person, Twist(signer.Name!, dice), signer.Number, signer.Salt!)); return at + 1;
            case "delete":
                rows.RemoveAt(at);
                return at == Length - 1 ? Length : at + 2;
            case "insert":
                rows.Insert(at, rows[dice.Next(Length)]);
                return rows[at].Entry.Number == at + 1 ? at + 1 : rows[at].Entry.Number;
            case "reorder":
                var to = (at + 1 + dice.Next(Length - 1)) % Length;
                (rows[at], rows[to]) = (rows[to], rows[at]);
                return Math.Max(at, to) + 1;
            case "truncate":
                rows.RemoveRange(at, Length - at);
                return at + 1;
            default:
                rows[at] = others[at];
                return at + 1;
        }
    }

    private static (long Number, string? Kind) FirstBreak(List<(RecordEntry Entry, RecordSigner Signer)> rows, string head)
    {
        var check = new ChainCheck(rows.Count > 0 ? ChainKey.For(Tail("aaaa")) : ChainKey.Operator);
        foreach (var (entry, signer) in rows)
        {
            if (check.Take(entry, signer) is { } broken)
            {
                return (broken.Number, broken.Kind);
            }
        }

        return check.Head == head ? (0, null) : (check.Entries + 1, "cut-short");
    }

    // A character for another one: any change of one is a change.
    private static string Twist(string text, Random dice)
    {
        var at = dice.Next(text.Length);
        var with = "0123456789abcdef"[dice.Next(16)];
        return text[..at] + (text[at] == with ? (with == 'f' ? 'e' : 'f') : with) + text[(at + 1)..];
    }

    private static RecordEntry With(RecordEntry entry, string? payload = null, string? hash = null, string? previous = null, string? words = null, string? kind = null, Instant? at = null) =>
        RecordEntry.Stored(entry.Chain, entry.Number, at ?? entry.At, kind ?? entry.Kind, entry.Subject, words ?? entry.Words, payload ?? entry.Payload, previous ?? entry.PreviousHash, hash ?? entry.Hash);

    private static List<(RecordEntry Entry, RecordSigner Signer)> Chain(string tail)
    {
        var (rows, previous) = (new List<(RecordEntry, RecordSigner)>(), RecordEntry.BeforeFirst);
        for (var number = 1; number <= Length; number++)
        {
            var (salt, name) = ($"{number:x32}", $"Person {number}");
            var fact = new Fact(ChainKey.For(Tail(tail)), "defect.sorted", new Guid(number, 0, 0, new byte[8]), $"Step {number} of the story.").With("count", number);
            var entry = RecordEntry.Seal(fact, number, previous, RecordSigner.HashOf(salt, name, "C-1"), Start + Duration.FromMinutes(number));
            rows.Add((entry, new RecordSigner(entry.Chain, number, default, name, "C-1", salt)));
            previous = entry.Hash;
        }

        return rows;
    }

    private static TailId Tail(string seed) => new(new Guid($"{seed}{seed}-0000-7000-8000-000000000000"));
}
