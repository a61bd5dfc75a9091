using System.Globalization;
using System.Text.Json.Nodes;
using Drainboard.Domain;
using NodaTime;

namespace Drainboard.Web.Tests.Faults;

/// <summary>Random bodies that keep to the contract in docs/openapi.json: every member of the right type, each choice one that there is, optional ones there or not.</summary>
internal sealed class ContractBodies(JsonNode contract, Instant now)
{
    private static readonly string[] Words = ["QQ-TSA", "K-1", "QQAA", "T1", "technical", "38-01", "x", "", "trap", "2026-01-26", "a few words"];

    /// <returns>The body's text, or null where the operation takes none.</returns>
    public string? For(string path, string method, Random dice) =>
        contract["paths"]![path]?[method]?["requestBody"]?["content"]?["application/json"]?["schema"] is { } schema ? Make(schema, dice, 0)?.ToJsonString() ?? "null" : null;

    private JsonNode? Make(JsonNode schema, Random dice, int depth)
    {
        if (schema["$ref"] is { } reference)
        {
            return Make(contract["components"]!["schemas"]![reference.GetValue<string>().Split('/')[^1]]!, dice, depth);
        }

        if ((schema["oneOf"] ?? schema["anyOf"]) is JsonArray choices)
        {
            return Make(choices[dice.Next(choices.Count)]!, dice, depth);
        }

        if (schema["enum"] is JsonArray values)
        {
            return values[dice.Next(values.Count)]?.DeepClone();
        }

        var types = schema["type"] switch { JsonArray many => [.. many.Select(one => one!.GetValue<string>())], JsonValue one => new[] { one.GetValue<string>() }, _ => ["object"] };
        var type = types[dice.Next(types.Length)];
        // A number may come as text too.
        type = type == "string" && types.Any(one => one is "integer" or "number") ? types.First(one => one is "integer" or "number") : type;
        return type switch
        {
            "null" => null,
            "boolean" => dice.Next(2) == 0,
            "integer" => dice.Next(4) == 0 ? dice.Next(-1000, 100_000) : dice.Next(0, 20),
            "number" => Math.Round((dice.NextDouble() - 0.2) * Math.Pow(10, dice.Next(4)), 3),
            "array" => new JsonArray([.. Enumerable.Range(0, depth > 5 ? 0 : dice.Next(4)).Select(_ => Make(schema["items"] ?? new JsonObject(), dice, depth + 1))]),
            "string" => Text(schema["format"]?.GetValue<string>(), dice),
            _ => Object(schema, dice, depth),
        };
    }

    private JsonObject Object(JsonNode schema, Random dice, int depth)
    {
        var made = new JsonObject();
        var required = (schema["required"] as JsonArray ?? []).Select(name => name!.GetValue<string>()).ToHashSet();
        foreach (var (name, member) in schema["properties"] as JsonObject ?? [])
        {
            if (required.Contains(name) || (depth < 6 && dice.Next(2) == 0))
            {
                made[name] = Make(member!, dice, depth + 1);
            }
        }

        if (schema["additionalProperties"] is JsonObject values)
        {
            made[Words[dice.Next(Words.Length)]] = Make(values, dice, depth + 1);
        }

        return made;
    }

    private string Text(string? format, Random dice) => format switch
    {
        "uuid" => $"{NewId.At(now)}",
        "date-time" => (now + Duration.FromHours(dice.Next(-100, 100))).ToString("uuuu-MM-dd'T'HH:mm:ss'Z'", CultureInfo.InvariantCulture),
        "date" => "2026-01-26",
        "time" => "10:00:00",
        _ => Words[dice.Next(Words.Length)],
    };
}
