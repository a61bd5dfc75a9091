using NodaTime;

namespace Drainboard.Domain.Fleet;

/// <summary>
/// A line station: where aircraft turn. Times there are read in <see cref="Zone"/> (an IANA name). <see cref="Capabilities"/>
/// are plain words for what can be done there; the staffed hours are local, and equal ends mean round the clock.
/// </summary>
public sealed class Station
{
    /// <summary>With a strainer of 500 and a drain of 300 mm2 behind it, a half-blocked strainer leaves 75 % of the clean opening (our arithmetic, so our choice).</summary>
    public const int UsualSlowPercent = 75;

    /// <summary>Half a technician's shift a day (our choice).</summary>
    public const int UsualCarriedMinutes = 240;

    private Station()
    {
    }

    public Station(StationCode code, string name, string zone, IEnumerable<string> capabilities, LocalTime staffedFrom, LocalTime staffedTo, int slowPercent = UsualSlowPercent, int carriedMinutes = UsualCarriedMinutes)
    {
        Code = code;
        Set(name, zone, capabilities, staffedFrom, staffedTo, slowPercent, carriedMinutes);
    }

    public StationCode Code { get; private set; }

    public string Name { get; private set; } = "";

    public string Zone { get; private set; } = "";

    public IReadOnlyList<string> Capabilities { get; private set; } = [];

    public LocalTime StaffedFrom { get; private set; }

    public LocalTime StaffedTo { get; private set; }

    /// <summary>Below this percentage of its clean opening a drain is called slow here, 1 to 100.</summary>
    public int SlowPercent { get; private set; } = UsualSlowPercent;

    /// <summary>Technician minutes of a local day that the station has for items which aircraft bring along, zero or more.</summary>
    public int CarriedMinutes { get; private set; } = UsualCarriedMinutes;

    public long Version { get; private set; }

    /// <summary>Takes the values of an import; answers whether anything differs.</summary>
    public bool Set(string name, string zone, IEnumerable<string> capabilities, LocalTime staffedFrom, LocalTime staffedTo, int slowPercent, int carriedMinutes)
    {
        var able = capabilities.ToArray();
        var same = (Name, Zone, StaffedFrom, StaffedTo, SlowPercent, CarriedMinutes) == (name, zone, staffedFrom, staffedTo, slowPercent, carriedMinutes) && Capabilities.SequenceEqual(able);
        (Name, Zone, Capabilities, StaffedFrom, StaffedTo, SlowPercent, CarriedMinutes) = (name, zone, able, staffedFrom, staffedTo, slowPercent, carriedMinutes);
        return !same;
    }
}
