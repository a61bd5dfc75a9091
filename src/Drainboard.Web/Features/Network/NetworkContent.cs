using Drainboard.Domain.Network;

namespace Drainboard.Web.Features.Network;

/// <summary>Plans of the problem back in tails, stays and times.</summary>
internal static class NetworkContent
{
    public static FleetPlanContent Of(NetworkDraft draft, NetworkPlan plan)
    {
        var lines = draft.Lines.ToDictionary(line => line.Defect.ToString());
        return new FleetPlanContent(
            [.. plan.Assigned.Select(one => Item(lines[one.Item], one.Stay)).OrderBy(item => item.ArrivesAt).ThenBy(item => item.Tail, StringComparer.Ordinal).ThenBy(item => item.Number)],
            [.. plan.Late.Select(late => lines[late]).Select(line => new FleetPlanLate(line.Defect, line.Tail, line.Fixture, Why(draft.Problem, plan, line)))],
            plan.FewestLate);
    }

    public static IReadOnlyList<StationLoad> Load(NetworkDraft draft, NetworkPlan plan)
    {
        var stays = plan.Assigned.ToDictionary(one => one.Item, one => one.Stay);
        var planned = draft.Problem.Items.Where(item => stays.ContainsKey(item.Id)).Select(item => item.Options.First(option => option.Stay == stays[item.Id])).ToArray();
        return [.. draft.Days.Select(day => new StationLoad(day.Station, day.Day, day.Minutes, planned.Where(option => option.Draws.Contains(NetworkDrafts.Name(day.Station, day.Day))).Sum(option => option.Minutes)))];
    }

    private static FleetPlanItem Item(NetworkLine line, string turn)
    {
        var at = line.Stays.Index().First(stay => stay.Item.Turn.ToString() == turn);
        var (visit, spares) = (at.Item.Visit, line.Stays.Count - 1 - at.Index);
        return new FleetPlanItem(line.Defect, line.Number, line.Tail, line.Fixture, at.Item.Turn, visit.Station, visit.Zone, visit.ArrivesAt, visit.DepartsAt, line.NeededMinutes, at.Item.Chance, spares);
    }

    private static string Why(NetworkProblem problem, NetworkPlan plan, NetworkLine line)
    {
        var options = problem.Items.First(item => item.Id == line.Defect.ToString()).Options;
        if (options.Count == 0)
        {
            return line.Standing == NetworkStanding.Lapsed ? "It has lapsed, and no stay is planned for it at which this work can be done." : "No stay that is planned can take it before it lapses.";
        }

        var where = string.Join(", ", line.Stays.Select(stay => stay.Visit.Station).Distinct());
        return options.All(option => option.Draws.Any(name => problem.Capacities[name] < option.Minutes)) ? $"It needs {line.NeededMinutes} min, more than there are for carried items in any stay that can take it: {where}."
            : options.Any(option => option.Draws.All(name => problem.Capacities[name] - Used(problem, plan, name) >= option.Minutes)) ? "It was left out of this plan."
            : $"The minutes of every stay that can take it are planned for others: {where}.";
    }

    private static int Used(NetworkProblem problem, NetworkPlan plan, string name)
    {
        var stays = plan.Assigned.ToDictionary(one => one.Item, one => one.Stay);
        return problem.Items.Where(item => stays.ContainsKey(item.Id)).SelectMany(item => item.Options.Where(option => option.Stay == stays[item.Id] && option.Draws.Contains(name))).Sum(option => option.Minutes);
    }
}
