using Drainboard.Domain;
using Drainboard.Domain.Accounts;
using Drainboard.Domain.TurnFit;
using Drainboard.Web.Features.Door;
using Microsoft.AspNetCore.Http.HttpResults;

namespace Drainboard.Web.Features.TurnFit;

/// <summary>One task, in minutes: its three points, or its median and 90 % quantile.</summary>
public sealed record TaskBody(double? Optimistic = null, double? Likely = null, double? Pessimistic = null, double? Median = null, double? P90 = null);

/// <param name="Technicians">One to fifty; 1 where it is left out.</param>
public sealed record TurnFitBody(IReadOnlyList<TaskBody> Tasks, double AvailableMinutes, int Technicians = 1);

public sealed record TurnFitAnswer(double Probability, double P50Minutes, double P90Minutes, IReadOnlyList<Explained> Explanation);

/// <summary>Whether tasks fit a time, as an open computation.</summary>
internal static class ComputeTurnFitApi
{
    private const int MostTasks = 100;
    private const int MostTechnicians = 50;
    private const double Longest = 100_000;

    public static void MapComputeTurnFit(this IEndpointRouteBuilder api) =>
        api.MapPost("/compute/turn-fit", Work).Needs(Act.Compute).OpenToGuests().ProducesProblem(400).WithTags("Compute").WithSummary("The chance that tasks are done within the minutes there are, for one or more technicians: exact by convolution, error at most 0.0005");

    private static Results<Ok<TurnFitAnswer>, ProblemHttpResult> Work(TurnFitBody body)
    {
        var faults = new Faults();
        if (body.Tasks.Count is 0 or > MostTasks)
        {
            faults.Add("tasks", $"Give 1 to {MostTasks} tasks.");
        }

        if (body.Technicians is < 1 or > MostTechnicians)
        {
            faults.Add("technicians", $"Is 1 to {MostTechnicians}.");
        }

        if (!(body.AvailableMinutes is >= 0 and <= Longest))
        {
            faults.Add("availableMinutes", $"Is 0 to {Longest:0} minutes.");
        }

        var tasks = body.Tasks.Select((task, at) => Read(task, $"tasks[{at}]", faults)).OfType<TaskTime>().ToArray();
        if (faults.Any)
        {
            return faults.ToHttp();
        }

        var work = WorkTime.Of(tasks, body.Technicians);
        return TypedResults.Ok(new TurnFitAnswer(work.ChanceWithin(body.AvailableMinutes), work.Likely, work.NineInTen,
        [
            new("A task of three points is a beta distribution of the PERT shape: alpha = 1 + 4 (likely - optimistic) / (pessimistic - optimistic), beta likewise; a task with a median and a 90 % quantile is lognormal.", "our arithmetic"),
            new(body.Technicians == 1 ? "One technician does one task after another: their times are added exactly, by convolution on a grid." : $"Each task goes, in the order given, to the one of {body.Technicians} who is free first by likely time (the median of a lognormal one); each one's times are added exactly, and all is done when the last one is.", "our arithmetic"),
            new("Times are taken as independent. Adding up likely times, or the normal distribution, promises too much in a short turn.", "common practice"),
        ]));
    }

    private static TaskTime? Read(TaskBody? task, string path, Faults faults)
    {
        if (task is null)
        {
            faults.Add(path, "Is empty. Leave it out, or write a task.");
            return null;
        }

        var (three, two) = (new[] { task.Optimistic, task.Likely, task.Pessimistic }, new[] { task.Median, task.P90 });
        if (three.Any(one => one is not null) == two.Any(one => one is not null) || three.Any(one => one is null) && two.Any(one => one is null))
        {
            faults.Add(path, "Is either optimistic, likely and pessimistic, or median and p90: all of one kind, none of the other.");
            return null;
        }

        if (three.All(one => one is not null))
        {
            if (!(task.Optimistic >= 0 && task.Optimistic <= task.Likely && task.Likely <= task.Pessimistic && task.Pessimistic <= Longest))
            {
                faults.Add(path, "Optimistic is zero or more, likely no less, pessimistic no less than that.");
                return null;
            }

            return new TaskTime.ThreePoint(task.Optimistic.Value, task.Likely.Value, task.Pessimistic.Value);
        }

        if (!(task.Median > 0 && task.Median <= task.P90 && task.P90 <= Longest))
        {
            faults.Add(path, "The median is above zero and p90 no less.");
            return null;
        }

        return new TaskTime.MedianAndP90(task.Median.Value, task.P90.Value);
    }
}
