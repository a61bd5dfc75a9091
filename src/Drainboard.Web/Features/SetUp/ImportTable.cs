namespace Drainboard.Web.Features.SetUp;

/// <summary>A table of an import: its name (the file is name.csv or name.json) and its columns, those that must be filled marked.</summary>
public sealed record ImportTable(string Name, IReadOnlyList<string> Required, IReadOnlyList<string> Optional)
{
    /// <summary>In the order in which they build on each other.</summary>
    public static IReadOnlyList<ImportTable> All { get; } =
    [
        new("stations", ["code", "name", "zone"], ["capabilities", "staffedFrom", "staffedTo", "slowPercent", "carriedMinutes"]),
        new("layouts", ["code", "version", "name", "seats"], []),
        new("fixtures", ["layout", "version", "position", "kind", "name", "area"], ["along", "across", "access", "accessible"]),
        new("classes", ["layout", "version", "name", "seats", "from", "to"], []),
        new("connections", ["layout", "version", "water", "from", "to"], []),
        new("tails", ["registration", "layout", "version"], ["deliveredOn"]),
        new("deviations", ["registration", "position", "words"], []),
        new("people", ["userName", "name", "roles"], ["stations", "onlyTail", "authorisationNumber", "authorisationKind", "organisation", "authorisationLastDay", "authorisationApproval", "limitKinds", "limitLayouts", "limitStations", "ownWorkOnly", "email"]),
        new("bases", ["kind", "code", "title", "revision", "kinds"], ["category", "intervalDays", "layouts", "installed", "required", "leakAllowed", "placardRequired", "placardText", "controlRequired", "certifyingRequired", "flightDays", "flightHours", "flightCycles", "fixedEnd", "requiredOperableBy"]),
        new("conditions", ["kind", "code", "condition", "words"], ["everyDays", "eachDeparture"]),
        new("turns", ["key", "tail", "station", "estimatedArrival", "estimatedDeparture"], ["stand", "onBlocks", "offBlocks"]),
        new("sectors", ["key", "tail", "from", "to", "offBlock", "onBlock"], ["flightMinutes", "flown"]),
    ];

    public static ImportTable? Find(string name) => All.FirstOrDefault(table => table.Name.Equals(name, StringComparison.OrdinalIgnoreCase));

    public string? Column(string name) => Required.Concat(Optional).FirstOrDefault(column => column.Equals(name.Trim(), StringComparison.OrdinalIgnoreCase));
}
