using System.Text.Json;
using NodaTime;
using NodaTime.Text;

namespace Drainboard.Web.Features.Reliability;

/// <summary>Values in an address: what cannot be read is left out, as if it had not been asked for.</summary>
internal static class Asked
{
    public static TName? Name<TName>(string? text)
        where TName : struct, Enum => Enum.TryParse<TName>(text, ignoreCase: true, out var known) && Enum.IsDefined(known) ? known : null;

    public static LocalDate? Day(string? text) => LocalDatePattern.Iso.Parse(text ?? "").TryGetValue(default, out var day) ? day : null;

    public static string? Clean(string? text) => string.IsNullOrWhiteSpace(text) ? null : text.Trim().ToUpperInvariant();

    public static string? Camel(Enum? value) => value is null ? null : JsonNamingPolicy.CamelCase.ConvertName(value.ToString());
}
