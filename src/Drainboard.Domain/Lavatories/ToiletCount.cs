using Drainboard.Domain.Fleet;

namespace Drainboard.Domain.Lavatories;

/// <summary>The toilets of one aircraft: how many there are and how many are in service, those that passengers with reduced mobility can use apart.</summary>
public sealed record ToiletCount(int Installed, int InService, int AccessibleInstalled, int AccessibleInService)
{
    /// <param name="down">Positions that are out of service; others than toilets count for nothing.</param>
    public static ToiletCount Of(CabinLayout cabin, IReadOnlySet<Position> down)
    {
        var toilets = cabin.Fixtures.Where(fixture => fixture.Kind == FixtureKind.Toilet).ToArray();
        var accessible = toilets.Where(toilet => toilet.Accessible).ToArray();
        return new ToiletCount(toilets.Length, toilets.Count(toilet => !down.Contains(toilet.Position)), accessible.Length, accessible.Count(toilet => !down.Contains(toilet.Position)));
    }
}
