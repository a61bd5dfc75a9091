using Drainboard.Domain.Fleet;
using Drainboard.Domain.Isolation;

namespace Drainboard.Domain.Pours;

/// <summary>
/// Where a timed pour may be made and what is asked first. A ground test of gravity drains only: in flight cabin pressure drives a
/// mast, and a vacuum drain is no orifice under its own head. Common practice, no source; airport rules and the manual decide.
/// </summary>
public static class PourQuestions
{
    private static readonly PourQuestion Ground = new("ground", "The aircraft is on the ground, on its stand.");
    private static readonly PourQuestion Area = new("area", "The area under the mast is clear: no people, no equipment, no ice where someone walks.");
    private static readonly PourQuestion Discharge = new("discharge", "Discharge is allowed at this stand.");
    private static readonly PourQuestion Gravity = new("gravity", "This drain runs by gravity (a vacuum-drained sink is never timed by a pour).");
    private static readonly PourQuestion Room = new("room", "The tank that it runs into has room.");

    public static IReadOnlyList<PourQuestion> For(CabinLayout layout, Position fixture) =>
        layout.Plumbing.DrainPath(fixture).Any(node => node.Kind == FixtureKind.DrainMast) ? [Ground, Area, Discharge] : [Ground, Gravity, Room];

    /// <summary>Why no pour is timed at this fixture, whoever asks and whatever is confirmed.</summary>
    public static Refusal? WhyNotAt(CabinLayout layout, Position at) =>
        layout.Find(at) is not { } fixture
            ? new Refusal("no-such-position", $"Layout {layout.Code} has no fixture at {at}. Choose one from the list.")
        : fixture.Kind == FixtureKind.Toilet
            ? new Refusal("not-a-gravity-drain", $"{fixture.Name} is emptied by vacuum. A timed pour is for gravity drains: sinks, basins and coffee makers.")
        : !CabinDrains.IsOutlet(fixture)
            ? new Refusal("nothing-to-pour-into", $"Nothing is poured into {fixture.Name} itself. Pour into a sink or basin that drains through it.")
        : CabinDrains.PathOf(layout, at).Count == 0
            ? new Refusal("no-path", $"The layout does not say what {fixture.Name} drains through. An administrator draws it on Set-up.")
        : null;
}
