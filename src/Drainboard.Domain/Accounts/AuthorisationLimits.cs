using Drainboard.Domain.Fleet;

namespace Drainboard.Domain.Accounts;

/// <summary>How far an authorisation reaches: an empty list is no limit. What it is limited to is written as the organisation granted it.</summary>
public sealed record AuthorisationLimits
{
    public static AuthorisationLimits None { get; } = new();

    /// <summary>The kinds of fixture that it covers.</summary>
    public IReadOnlyList<FixtureKind> Kinds { get; init; } = [];

    /// <summary>Codes of the layouts of the group of tails that it covers.</summary>
    public IReadOnlyList<string> Layouts { get; init; } = [];

    /// <summary>Codes of the stations where it may be used.</summary>
    public IReadOnlyList<string> Stations { get; init; } = [];

    /// <summary>Only what its holder has done.</summary>
    public bool OwnWorkOnly { get; init; }

    public string Words => string.Join("; ", new[]
    {
        Kinds.Count == 0 ? null : string.Join(", ", Kinds.Select(kind => kind.Words())),
        Layouts.Count == 0 ? null : $"layouts {string.Join(", ", Layouts)}",
        Stations.Count == 0 ? null : $"at {string.Join(", ", Stations)}",
        OwnWorkOnly ? "own work only" : null,
    }.Where(words => words is not null));

    /// <summary>Why a signature there would go beyond it.</summary>
    public Refusal? WhyNot(string number, SigningPlace place) =>
        Kinds.Count > 0 && !Kinds.Contains(place.Kind)
            ? new Refusal("authorisation-scope", $"Authorisation {number} covers {string.Join(", ", Kinds.Select(kind => kind.Words()))}; this is a {place.Kind.Words()}. Somebody whose authorisation covers it signs.")
        : Layouts.Count > 0 && !Layouts.Contains(place.Layout, StringComparer.OrdinalIgnoreCase)
            ? new Refusal("authorisation-tails", $"Authorisation {number} covers aircraft of layout {string.Join(", ", Layouts)}; this one is of {place.Layout}. Somebody whose authorisation covers it signs.")
        : Stations.Count > 0 && (place.Station is not { } here || !Stations.Contains(here.Value, StringComparer.OrdinalIgnoreCase))
            ? new Refusal("authorisation-station", $"Authorisation {number} is used at {string.Join(", ", Stations)}; the aircraft is {(place.Station is { } at ? $"at {at}" : "at no known station")}. Somebody whose authorisation covers it signs.")
        : OwnWorkOnly && !place.IsOwnWork
            ? new Refusal("own-work-only", $"Authorisation {number} is for own work only, and somebody else did this. Another certifying technician signs.")
        : null;
}
