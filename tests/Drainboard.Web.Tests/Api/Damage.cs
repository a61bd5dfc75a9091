using System.Text;
using System.Text.Json;
using System.Text.Json.Nodes;
using Drainboard.Domain;
using Drainboard.Testing;

namespace Drainboard.Web.Tests.Api;

/// <summary>A sound body with one to three things done to it: a value swapped for one of another kind, a field gone, bytes flipped, cut off.</summary>
internal static class Damage
{
    private static readonly string[] Odd =
    [
        "null", "true", "-1", "1e400", "0.1", "\"\"", "[]", "{}", "[[[[[[]]]]]]", "\"\\u0000\"", "\"\\ud800\"", "\"QQ-TSA\"", "\"leaking\"", "\"2026-02-30T25:61:00Z\"", "\"9999-12-31T23:59:59.9999999Z\"", "\"-9998-01-01T00:00:00Z\"",
        "\"00000000-0000-0000-0000-000000000000\"", "99999999999999999999", "\"' OR 1=1 --\"", "\"<script>\"", "\"\u202Eabc\"", "{\"a\":{\"b\":[1,2,3]}}", "[\"K-2\"]", "[null]", "[\"K-1\",\"K-1\"]", "840", "-721",
    ];

    /// <summary>A report that would be taken in.</summary>
    public static string SoundReport(DrainboardHost host) => JsonSerializer.Serialize(new
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
    });

    public static byte[] Make(string sound, Random dice)
    {
        var text = sound;
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

    /// <summary>Something that does not belong there, for an address.</summary>
    public static string Odds(Random dice) => Odd[dice.Next(Odd.Length)].Trim('"');

    private static string Swap(string text, Random dice)
    {
        try
        {
            var root = JsonNode.Parse(text)!;
            // Any place in it, however deep.
            var places = Places(root).ToArray();
            var (parent, name, at) = places[dice.Next(places.Length)];
            if (parent is JsonObject of)
            {
                if (dice.Next(6) == 0)
                {
                    of.Remove(name);
                    return root.ToJsonString();
                }

                of[name] = "@@";
            }
            else
            {
                ((JsonArray)parent)[at] = "@@";
            }

            // As text, because some of these values no parser would make.
            return root.ToJsonString().Replace("\"@@\"", dice.Next(8) == 0 ? $"\"{new string('x', dice.Next(1, 30_000))}\"" : Odd[dice.Next(Odd.Length)], StringComparison.Ordinal);
        }
        catch (Exception failure) when (failure is JsonException or InvalidOperationException or ArgumentException or IndexOutOfRangeException or NullReferenceException)
        {
            return Flip(text, dice);
        }
    }

    private static IEnumerable<(JsonNode Parent, string Name, int At)> Places(JsonNode node) => node switch
    {
        JsonObject of => of.SelectMany(field => (field.Value is null ? [] : Places(field.Value)).Prepend((of, field.Key, 0))),
        JsonArray list => list.SelectMany((item, at) => (item is null ? [] : Places(item)).Prepend((list, "", at))),
        _ => [],
    };

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
