using Drainboard.Domain;
using Drainboard.Domain.Accounts;
using Drainboard.Domain.ShiftPlans;
using Drainboard.Planning;
using Drainboard.Web.Features.Door;
using Microsoft.AspNetCore.Http.HttpResults;

namespace Drainboard.Web.Features.ShiftPlans;

/// <summary>Somebody on the shift, in minutes from its beginning.</summary>
public sealed record TechnicianBody(string Id, int From, int To, IReadOnlyList<string> Skills);

/// <param name="Stand">Optional: between tasks on one stand nobody walks.</param>
/// <param name="Access">Optional: a place that one task has at a time.</param>
/// <param name="After">Optional: tasks that are ended before.</param>
public sealed record ShiftTaskBody(string Id, int Minutes, int Weight, string Skill, int WindowFrom, int WindowTo, string? Stand = null, string? Access = null, IReadOnlyList<string>? After = null);

/// <param name="SecondsAllowed">Above zero, up to sixty.</param>
public sealed record ShiftPlanBody(IReadOnlyList<TechnicianBody> Technicians, IReadOnlyList<ShiftTaskBody> Tasks, int WalkMinutes = 0, double SecondsAllowed = 10);

public sealed record ShiftPlanAnswer(IReadOnlyList<PlanAssignment> Assigned, IReadOnlyList<string> Left, int Objective, int Bound, bool Proven, IReadOnlyList<Explained> Explanation);

/// <summary>Who does what, as an open computation.</summary>
internal static class ComputeShiftPlanApi
{
    private const int MostTechnicians = 60;
    private const int MostTasks = 400;
    private const int LongestShift = 20_000;

    public static void MapComputeShiftPlan(this IEndpointRouteBuilder api) =>
        api.MapPost("/compute/shift-plan", WorkAsync).Needs(Act.Compute).OpenToGuests().ProducesProblem(400).WithTags("Compute").WithSummary("The plan that does what is worth most, with a bound that no plan exceeds; close the connection to give it up");

    private static async Task<Results<Ok<ShiftPlanAnswer>, ProblemHttpResult>> WorkAsync(ShiftPlanBody body, ShiftSolver solver, CancellationToken stop)
    {
        var faults = new Faults();
        Check(body, faults);
        if (faults.Any)
        {
            return faults.ToHttp();
        }

        var problem = new ShiftPlanProblem(
            [.. body.Technicians.Select(who => new PlanTechnician(who.Id, who.From, who.To, who.Skills))],
            [.. body.Tasks.Select(task => new PlanTask(task.Id, task.Minutes, task.Weight, task.Skill, task.WindowFrom, task.WindowTo) { Stand = task.Stand ?? "", Access = task.Access ?? "", After = task.After ?? [] })],
            body.WalkMinutes);
        var plan = await solver.SolveAsync(problem, body.SecondsAllowed, null, stop);
        return TypedResults.Ok(new ShiftPlanAnswer(plan.Assigned, plan.Left, plan.Objective, plan.Bound, plan.Proven, [.. Explain(problem, plan)]));
    }

    private static IEnumerable<Explained> Explain(ShiftPlanProblem problem, ShiftPlan plan)
    {
        yield return new(plan.Proven ? $"No plan is worth more than {plan.Objective}." : $"This plan is worth {plan.Objective}; none is worth more than {plan.Bound}. More time may find a better one, or prove this one.", ShiftPlanner.WhyNot is null ? "CP-SAT, OR-Tools 9.15" : "the heaviest first, without a solver");
        yield return new("The plan was checked by itself: skills, hours, windows, walking, shared places and order.", "our arithmetic");
        foreach (var task in problem.Tasks.Where(task => plan.Left.Contains(task.Id)))
        {
            yield return new($"{task.Id} is left: {WhyLeft.Of(problem, plan, task)}", "our arithmetic");
        }
    }

    private static void Check(ShiftPlanBody body, Faults faults)
    {
        if (body.Technicians.Count > MostTechnicians)
        {
            faults.Add("technicians", $"Up to {MostTechnicians}.");
        }

        if (body.Tasks.Count > MostTasks)
        {
            faults.Add("tasks", $"Up to {MostTasks}.");
        }

        if (body.WalkMinutes is < 0 or > 240)
        {
            faults.Add("walkMinutes", "Is 0 to 240.");
        }

        if (!(body.SecondsAllowed > 0 && body.SecondsAllowed <= ShiftSolver.LongestSeconds))
        {
            faults.Add("secondsAllowed", $"Is above 0 and up to {ShiftSolver.LongestSeconds:0}.");
        }

        foreach (var (at, who) in body.Technicians.Index())
        {
            if (who.From < 0 || who.To < who.From || who.To > LongestShift)
            {
                faults.Add($"technicians[{at}].to", $"A shift begins at 0 or later and does not end before it begins; the last minute is {LongestShift}.");
            }

            if (who.Id.Length == 0 || body.Technicians.Take(at).Any(other => other.Id == who.Id))
            {
                faults.Add($"technicians[{at}].id", "Each has an id of its own.");
            }
        }

        var ids = body.Tasks.Select(task => task.Id).ToHashSet();
        foreach (var (at, task) in body.Tasks.Index())
        {
            if (task.Id.Length == 0 || body.Tasks.Take(at).Any(other => other.Id == task.Id))
            {
                faults.Add($"tasks[{at}].id", "Each has an id of its own.");
            }

            if (task.Minutes is < 1 or > LongestShift)
            {
                faults.Add($"tasks[{at}].minutes", "Is one or more whole minutes.");
            }

            if (task.Weight is < 1 or > 1_000_000)
            {
                faults.Add($"tasks[{at}].weight", "Is 1 to 1,000,000.");
            }

            if (task.WindowFrom < 0 || task.WindowTo < task.WindowFrom || task.WindowTo > LongestShift)
            {
                faults.Add($"tasks[{at}].windowTo", "A window does not end before it starts, and lies within the shift.");
            }

            if (task.After?.FirstOrDefault(before => before == task.Id || !ids.Contains(before)) is { } wrong)
            {
                faults.Add($"tasks[{at}].after", $"\"{wrong}\" is no other task here.");
            }
        }
    }
}
