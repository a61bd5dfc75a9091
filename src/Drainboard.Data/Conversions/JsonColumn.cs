using System.Text.Json;
using System.Text.Json.Serialization;
using Drainboard.Domain.Fleet;
using Microsoft.EntityFrameworkCore.ChangeTracking;
using Microsoft.EntityFrameworkCore.Metadata.Builders;
using Microsoft.EntityFrameworkCore.Storage.ValueConversion;
using NodaTime;
using NodaTime.Text;

namespace Drainboard.Data.Conversions;

/// <summary>
/// Small immutable values that no query looks into live in one text column as JSON, alike on both databases.
/// </summary>
internal static class JsonColumn
{
    public static JsonSerializerOptions Options { get; } = new()
    {
        IgnoreReadOnlyProperties = true,
        Encoder = System.Text.Encodings.Web.JavaScriptEncoder.UnsafeRelaxedJsonEscaping,
        Converters =
        {
            new JsonStringEnumConverter(),
            new TextJson<Position>(Position.Parse),
            new TextJson<StationCode>(StationCode.Parse),
            new TextJson<Instant>(text => InstantPattern.ExtendedIso.Parse(text).Value, InstantPattern.ExtendedIso.Format),
        },
    };

    public static PropertyBuilder<T> HasJson<T>(this PropertyBuilder<T> property) =>
        property.HasConversion(new Converter<T>(), new Comparer<T>());

    private static string Write<T>(T value) => JsonSerializer.Serialize(value, Options);

    private static T Read<T>(string text)
    {
        var last = Last<T>.Read;
        if (last is null || last.Text != text)
        {
            Last<T>.Read = last = new Known<T>(text, JsonSerializer.Deserialize<T>(text, Options)!);
        }

        return last.Value;
    }

    private sealed class Converter<T>() : ValueConverter<T, string>(value => Write(value), text => Read<T>(text));

    // The values are immutable, so a snapshot is the value itself.
    private sealed class Comparer<T>() : ValueComparer<T>((a, b) => ReferenceEquals(a, b) || Write(a) == Write(b), value => Write(value).GetHashCode(StringComparison.Ordinal), value => value);

    // Most rows of a column hold what the row before held, most often nothing; values are immutable, so they share it.
    private static class Last<T>
    {
        public static volatile Known<T>? Read;
    }

    private sealed record Known<T>(string Text, T Value);

    private sealed class TextJson<T>(Func<string, T> parse, Func<T, string>? format = null) : JsonConverter<T>
        where T : struct
    {
        public override T Read(ref Utf8JsonReader reader, Type typeToConvert, JsonSerializerOptions options) => parse(reader.GetString()!);

        public override void Write(Utf8JsonWriter writer, T value, JsonSerializerOptions options) => writer.WriteStringValue(format is null ? value.ToString() : format(value));
    }
}
