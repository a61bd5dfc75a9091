using Drainboard.Domain.Fleet;

namespace Drainboard.Domain.Lavatories;

/// <summary>
/// Waiting of one class for the toilets of its own stretch of the cabin. A toilet in no stretch belongs to the nearest class; where a class has
/// none in service, its passengers go to the nearest class that has, and all of them wait there.
/// </summary>
/// <param name="Using">How many passengers use its toilets: its own seats and those of classes that have none in service.</param>
/// <param name="GoTo">Where its passengers go instead; null: they have toilets of their own, or nobody has.</param>
/// <param name="Waiting">Null where none of its own is in service.</param>
public sealed record ClassWaiting(string Name, int Seats, int Installed, int InService, int Using, string? GoTo, CabinWaiting? Waiting)
{
    /// <param name="down">Positions that are out of service.</param>
    /// <returns>From the nose back; empty where a layout names no classes.</returns>
    public static IReadOnlyList<ClassWaiting> Of(CabinLayout cabin, IReadOnlySet<Position> down, LavatoryTerms terms)
    {
        var classes = cabin.Classes.OrderBy(one => one.From).ToArray();
        if (classes.Length == 0)
        {
            return [];
        }

        var toilets = cabin.Fixtures.Where(fixture => fixture.Kind == FixtureKind.Toilet).ToLookup(toilet => Array.IndexOf(classes, classes.MinBy(one => one.DistanceTo(toilet.Along))));
        var inService = classes.Select((_, index) => toilets[index].Count(toilet => !down.Contains(toilet.Position))).ToArray();
        var goTo = classes.Select((one, index) => inService[index] > 0 ? index : Enumerable.Range(0, classes.Length).Where(other => inService[other] > 0).Select(other => (int?)other).MinBy(other => Gap(one, classes[other!.Value]))).ToArray();
        return
        [
            .. classes.Select((one, index) =>
            {
                var passengers = classes.Where((_, other) => goTo[other] == index).Sum(other => other.Seats);
                return new ClassWaiting(one.Name, one.Seats, toilets[index].Count(), inService[index], passengers, goTo[index] is { } other && other != index ? classes[other].Name : null, CabinWaiting.Of(passengers, inService[index], terms));
            }),
        ];
    }

    private static int Gap(CabinClass one, CabinClass other) => other.From >= one.To ? other.From - one.To : one.From - other.To;
}
