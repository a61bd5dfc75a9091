using Drainboard.Domain.Accounts;
using Drainboard.Domain.Fleet;
using Drainboard.Domain.Tests.Situations;

namespace Drainboard.Domain.Tests.PotableWater;

/// <summary>A tail with two galley and two lavatory taps, and ids that count up.</summary>
internal static class Ids
{
    private static int _next;

    public static Tail Tail { get; } = new(new TailId(New()), Registration.Parse("QQ-TSA"), new LayoutId(Guid.Empty), []);

    public static Actor By => Cabin.Controller;

    public static CabinLayout Layout { get; } = new(new LayoutId(Guid.Empty), "T9", 1, "Test", 100, [Of("K-1", FixtureKind.GalleySink), Of("K-2", FixtureKind.GalleySink), Of("B-1", FixtureKind.LavatoryBasin), Of("B-2", FixtureKind.LavatoryBasin), Of("T-1", FixtureKind.Toilet)], []);

    public static Guid New() => new(Interlocked.Increment(ref _next), 0, 0, [0, 0, 0, 0, 0, 0, 0, 1]);

    public static Position[] Taps(params string[] taps) => [.. taps.Select(Position.Parse)];

    private static Fixture Of(string position, FixtureKind kind) => new(Position.Parse(position), kind, position, "Cabin", 50, 50);
}
