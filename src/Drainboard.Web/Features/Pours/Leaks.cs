using Drainboard.Domain.Defects;
using Drainboard.Domain.Fleet;

namespace Drainboard.Web.Features.Pours;

/// <summary>Known leaks that a pour would feed: at the fixture itself or anywhere on its way down.</summary>
internal static class Leaks
{
    public static IReadOnlyList<Defect> On(CabinLayout layout, Position fixture, IEnumerable<Defect> active)
    {
        var way = layout.Plumbing.DrainPath(fixture).Select(node => node.Position).Append(fixture).ToHashSet();
        return [.. active.Where(defect => defect.Leak == LeakAnswer.Leaking && way.Contains(defect.Position))];
    }
}
