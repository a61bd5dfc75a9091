using System.Text.Json;
using System.Text.Json.Serialization;
using NodaTime;
using NodaTime.Text;

namespace Drainboard.Web.Hosting;

/// <summary>Reads any ISO 8601 instant that says its offset (or Z), refuses one that does not, and writes Z.</summary>
internal sealed class InstantAnyOffset : JsonConverter<Instant>
{
    public override Instant Read(ref Utf8JsonReader reader, Type typeToConvert, JsonSerializerOptions options)
    {
        var text = reader.TokenType == JsonTokenType.String ? reader.GetString()! : "";
        return TryParse(text, out var at) ? at : throw new JsonException($"\"{text}\" is not an instant: write it as 2026-01-26T10:00:00Z, or with an offset such as +09:00.");
    }

    public override void Write(Utf8JsonWriter writer, Instant value, JsonSerializerOptions options) =>
        writer.WriteStringValue(InstantPattern.ExtendedIso.Format(value));

    public static bool TryParse(string text, out Instant at)
    {
        var parsed = OffsetDateTimePattern.ExtendedIso.Parse(text);
        if (!parsed.Success && text.Length > 16)
        {
            // Seconds may be left out: 2026-01-26T10:00Z.
            parsed = OffsetDateTimePattern.CreateWithInvariantCulture("uuuu'-'MM'-'dd'T'HH':'mmo<Z+HH:mm>").Parse(text);
        }

        at = parsed.Success ? MicrosecondClock.Cut(parsed.Value.ToInstant()) : default;
        return parsed.Success;
    }
}
