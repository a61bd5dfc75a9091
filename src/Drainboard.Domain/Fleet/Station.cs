using NodaTime;

namespace Drainboard.Domain.Fleet;

/// <summary>
/// A line station: where aircraft turn. Times there are read in <see cref="Zone"/> (an IANA name). <see cref="Capabilities"/>
/// are plain words for what can be done there; the staffed hours are local, and equal ends mean round the clock.
/// </summary>
public sealed class Station
{
    private Station()
    {
    }

    public Station(StationCode code, string name, string zone, IEnumerable<string> capabilities, LocalTime staffedFrom, LocalTime staffedTo)
    {
        Code = code;
        Set(name, zone, capabilities, staffedFrom, staffedTo);
    }

    public StationCode Code { get; private set; }

    public string Name { get; private set; } = "";

    public string Zone { get; private set; } = "";

    public IReadOnlyList<string> Capabilities { get; private set; } = [];

    public LocalTime StaffedFrom { get; private set; }

    public LocalTime StaffedTo { get; private set; }

    public long Version { get; private set; }

    /// <summary>Takes the values of an import; answers whether anything differs.</summary>
    public bool Set(string name, string zone, IEnumerable<string> capabilities, LocalTime staffedFrom, LocalTime staffedTo)
    {
        var able = capabilities.ToArray();
        var same = (Name, Zone, StaffedFrom, StaffedTo) == (name, zone, staffedFrom, staffedTo) && Capabilities.SequenceEqual(able);
        (Name, Zone, Capabilities, StaffedFrom, StaffedTo) = (name, zone, able, staffedFrom, staffedTo);
        return !same;
    }
}
