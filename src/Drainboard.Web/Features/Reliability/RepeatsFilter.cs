using Drainboard.Domain.Defects;
using Drainboard.Domain.Fleet;
using Drainboard.Domain.Reliability;
using Microsoft.AspNetCore.WebUtilities;

namespace Drainboard.Web.Features.Reliability;

/// <summary>What of all standings is shown. Every part may be left out; it is the page's address, and the query of the CSV.</summary>
public sealed record RepeatsFilter(string? Layout = null, FixtureKind? Kind = null, SymptomFamily? Family = null, StandingScope? Scope = null, string? Tail = null, bool Flagged = false)
{
    public static RepeatsFilter Of(string? layout, string? kind, string? family, string? scope, string? tail, string? flagged) =>
        new(Clean(layout), Name<FixtureKind>(kind), Name<SymptomFamily>(family), Name<StandingScope>(scope), Clean(tail), flagged is "true" or "yes");

    public string Query(int? lines = null) => QueryHelpers.AddQueryString("", new Dictionary<string, string?>
    {
        ["layout"] = Layout,
        ["kind"] = Camel(Kind),
        ["family"] = Camel(Family),
        ["scope"] = Camel(Scope),
        ["tail"] = Tail,
        ["flagged"] = Flagged ? "true" : null,
        ["lines"] = lines?.ToString(System.Globalization.CultureInfo.InvariantCulture),
    });

    public static string? Camel(Enum? value) => value is null ? null : System.Text.Json.JsonNamingPolicy.CamelCase.ConvertName(value.ToString());

    private static TName? Name<TName>(string? text)
        where TName : struct, Enum => Enum.TryParse<TName>(text, ignoreCase: true, out var known) && Enum.IsDefined(known) ? known : null;

    private static string? Clean(string? text) => string.IsNullOrWhiteSpace(text) ? null : text.Trim().ToUpperInvariant();
}
