using Drainboard.Domain.TurnFit;

namespace Drainboard.Web.Features.TurnFit;

/// <summary>Whether everything open on one aircraft is done before it goes, by one technician or by two.</summary>
/// <param name="UsableMinutes">At the place that has fewest.</param>
public sealed record TogetherView(int Items, int UsableMinutes, double One, double Two)
{
    public string Words => $"All {Items} together: {FitView.Percent(One)} with one technician, {FitView.Percent(Two)} with two ({UsableMinutes} usable min).";

    internal static TogetherView? Of(IReadOnlyCollection<FitView> items)
    {
        if (items.Count < 2)
        {
            return null;
        }

        var usable = items.Min(item => item.UsableMinutes);
        TaskTime[] tasks = [.. items.Select(item => new TaskTime.Whole(item.Work!)).OrderByDescending(task => task.Likely)];
        return new TogetherView(items.Count, usable, WorkTime.Of(tasks).ChanceWithin(usable), WorkTime.Of(tasks, 2).ChanceWithin(usable));
    }
}
