using System.Text;
using System.Text.Json;
using System.Text.Json.Nodes;
using Drainboard.Domain;
using Drainboard.Testing;

namespace Drainboard.Web.Tests.Api;

/// <summary>A sound report with one to three things done to it: a value swapped for one of another kind, a field gone, bytes flipped, cut off.</summary>
internal static class DamagedReport
{
    private static readonly string[] Odd =
    [
        "null", "true", "-1", "1e400", "0.1", "\"\"", "[]", "{}", "[[[[[[]]]]]]", "\"\\u0000\"", "\"\\ud800\"", "\"QQ-TSA\"", "\"leaking\"", "\"2026-02-30T25:61:00Z\"", "\"9999-12-31T23:59:59.9999999Z\"", "\"-9998-01-01T00:00:00Z\"",
        "\"00000000-0000-0000-0000-000000000000\"", "99999999999999999999", "\"' OR 1=1 --\"", "\"<script>\"", "\"\u202Eabc\"", "{\"a\":{\"b\":[1,2,3]}}", "[\"K-2\"]", "[null]", "[\"K-1\",\"K-1\"]", "840", "-721",
    ];

    public static byte[] Make(DrainboardHost host, Random dice)
    {
        var sound = JsonSerializer.SerializeToNode(new
        {
            id = NewId.At(host.Clock.GetCurrentInstant()),
            tail = "QQ-TSA",
            position = "K-1",
            symptom = "drainsSlowly",
            leak = "noneSeen",
            leakWhere = "",
            seenAt = Station.Iso(host.Clock.GetCurrentInstant()),
            savedAt = Station.Iso(host.Clock.GetCurrentInstant()),
            phase = "inFlight",
            words = "Slow.",
            offsetMinutes = 60,
            others = "onlyThis",
            alsoAt = Array.Empty<string>(),
            addTo = (string?)null,
        })!.AsObject();
        var text = sound.ToJsonString();
        for (var times = 1 + dice.Next(3); times > 0; times--)
        {
            text = dice.Next(5) switch
            {
                0 => Cut(text, dice),
                1 => Flip(text, dice),
                _ => Swap(text, dice),
            };
        }

        return Encoding.UTF8.GetBytes(text);
    }

    private static string Swap(string text, Random dice)
    {
        try
        {
            var node = JsonNode.Parse(text)!.AsObject();
            var name = node.Select(field => field.Key).ElementAt(dice.Next(node.Count));
            if (dice.Next(6) == 0)
            {
                node.Remove(name);
                return node.ToJsonString();
            }

            // As text, because some of these values no parser would make.
            node[name] = "@@";
            return node.ToJsonString().Replace("\"@@\"", dice.Next(8) == 0 ? $"\"{new string('x', dice.Next(1, 30_000))}\"" : Odd[dice.Next(Odd.Length)], StringComparison.Ordinal);
        }
        catch (Exception failure) when (failure is JsonException or InvalidOperationException or ArgumentException)
        {
            return Flip(text, dice);
        }
    }

    private static string Cut(string text, Random dice) => text.Length == 0 ? text : text[..dice.Next(text.Length)];

    private static string Flip(string text, Random dice)
    {
        if (text.Length == 0)
        {
            return "{";
        }

        var bytes = text.ToCharArray();
        bytes[dice.Next(bytes.Length)] = (char)dice.Next(1, 0x2FF);
        return new string(bytes);
    }
}
