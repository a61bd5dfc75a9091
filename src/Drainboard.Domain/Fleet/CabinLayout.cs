using Drainboard.Domain.Plumbing;

namespace Drainboard.Domain.Fleet;

/// <summary>
/// The fixtures and plumbing of a group of alike tails. A layout version never changes once it is stored: another drawing
/// is another version, and what was written up under the old one keeps its names.
/// </summary>
public sealed class CabinLayout
{
    private Dictionary<Position, Fixture>? _byPosition;
    private PlumbingGraph? _plumbing;

    private CabinLayout()
    {
    }

    public CabinLayout(LayoutId id, string code, int version, string name, int seats, IEnumerable<Fixture> fixtures, IEnumerable<Connection> connections, IEnumerable<CabinClass>? classes = null)
    {
        (Id, Code, Version, Name, Seats) = (id, code, version, name, seats);
        Fixtures = fixtures.ToArray();
        Connections = connections.ToArray();
        Classes = [.. classes ?? []];
    }

    public LayoutId Id { get; private set; }

    public string Code { get; private set; } = "";

    public int Version { get; private set; }

    public string Name { get; private set; } = "";

    public int Seats { get; private set; }

    public IReadOnlyList<Fixture> Fixtures { get; private set; } = [];

    public IReadOnlyList<Connection> Connections { get; private set; } = [];

    /// <summary>The classes of seats; none where nobody said them.</summary>
    public IReadOnlyList<CabinClass> Classes { get; private set; } = [];

    public PlumbingGraph Plumbing => _plumbing ??= new PlumbingGraph(Fixtures, Connections);

    public Fixture? Find(Position position) =>
        (_byPosition ??= Fixtures.ToDictionary(fixture => fixture.Position)).GetValueOrDefault(position);

    /// <summary>Why this may not follow earlier versions: a position keeps its meaning, because findings, pours and open defects are kept by it.</summary>
    public Refusal? WhyNotAfter(IEnumerable<CabinLayout> earlier)
    {
        var changed = from version in earlier
                      from fixture in Fixtures
                      let before = version.Find(fixture.Position)
                      where before is not null && before.Kind != fixture.Kind
                      orderby version.Version descending
                      select $"{fixture.Position} is a {before.Kind.Words()} in version {version.Version} and a {fixture.Kind.Words()} here";
        return changed.FirstOrDefault() is { } one ? new Refusal("position-reused", $"{one}. A position keeps its meaning; give the new fixture a code of its own.") : null;
    }

    /// <summary>Whether another drawing says the same: code, version and the order of lines aside.</summary>
    public bool IsSameDrawing(CabinLayout other) =>
        (Name, Seats) == (other.Name, other.Seats) && Fixtures.ToHashSet().SetEquals(other.Fixtures) && Connections.ToHashSet().SetEquals(other.Connections) && Classes.ToHashSet().SetEquals(other.Classes);
}
