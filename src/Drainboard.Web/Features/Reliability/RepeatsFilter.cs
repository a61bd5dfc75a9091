using Drainboard.Domain.Defects;
using Drainboard.Domain.Fleet;
using Drainboard.Domain.Reliability;
using Microsoft.AspNetCore.WebUtilities;

namespace Drainboard.Web.Features.Reliability;

/// <summary>What of all standings is shown. Every part may be left out; it is the page's address, and the query of the CSV.</summary>
public sealed record RepeatsFilter(string? Layout = null, FixtureKind? Kind = null, SymptomFamily? Family = null, StandingScope? Scope = null, string? Tail = null, bool Flagged = false)
{
    public static RepeatsFilter Of(string? layout, string? kind, string? family, string? scope, string? tail, string? flagged) =>
        new(Asked.Clean(layout), Asked.Name<FixtureKind>(kind), Asked.Name<SymptomFamily>(family), Asked.Name<StandingScope>(scope), Asked.Clean(tail), flagged is "true" or "yes");

    public string Query(int? lines = null) => QueryHelpers.AddQueryString("", new Dictionary<string, string?>
    {
        ["layout"] = Layout,
        ["kind"] = Asked.Camel(Kind),
        ["family"] = Asked.Camel(Family),
        ["scope"] = Asked.Camel(Scope),
        ["tail"] = Tail,
        ["flagged"] = Flagged ? "true" : null,
        ["lines"] = lines?.ToString(System.Globalization.CultureInfo.InvariantCulture),
    });
}
