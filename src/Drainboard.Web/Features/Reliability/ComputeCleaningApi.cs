using Drainboard.Domain;
using Drainboard.Domain.Accounts;
using Drainboard.Domain.Reliability;
using Drainboard.Web.Features.Door;
using Microsoft.AspNetCore.Http.HttpResults;

namespace Drainboard.Web.Features.Reliability;

public sealed record AgeBody(double Hours, bool Blocked);

/// <param name="PlannedCost">Of a cleaning at its interval, in any unit.</param>
/// <param name="UnplannedCost">Of a blockage and its cleaning, in the same.</param>
public sealed record CleaningBody(IReadOnlyList<AgeBody> Ages, double PlannedCost, double UnplannedCost);

/// <param name="Shape90">By profile likelihood; the upper end is null where nothing bounds it.</param>
/// <param name="BestIntervalHours">Null where wear-out is not shown or less than 5 % would be saved.</param>
/// <param name="SavingFraction">Of the best interval against cleaning when blocked; 0 where none beats that.</param>
public sealed record CleaningAnswer(double Shape, double Scale, IReadOnlyList<double?> Shape90, double? BestIntervalHours, double SavingFraction, IReadOnlyList<Explained> Explanation);

/// <summary>When to clean, as an open computation.</summary>
internal static class ComputeCleaningApi
{
    private const int MostAges = 100_000;

    public static void MapComputeCleaning(this IEndpointRouteBuilder api) =>
        api.MapPost("/compute/cleaning-interval", Work).Needs(Act.Compute).OpenToGuests().ProducesProblem(400).ProducesProblem(422).WithTags("Compute").WithSummary("The cleaning interval of least cost from ages at blockage and at cleaning; silent where wear-out is not shown");

    private static Results<Ok<CleaningAnswer>, ProblemHttpResult> Work(CleaningBody body)
    {
        var faults = new Faults();
        if (body.Ages.Count is 0 or > MostAges)
        {
            faults.Add("ages", $"Give 1 to {MostAges} ages.");
        }

        foreach (var (index, _) in body.Ages.Index().Where(one => !(one.Item.Hours > 0) || !double.IsFinite(one.Item.Hours)).Take(20))
        {
            faults.Add($"ages[{index}].hours", "Is above zero.");
        }

        foreach (var (name, cost) in new[] { ("plannedCost", body.PlannedCost), ("unplannedCost", body.UnplannedCost) })
        {
            if (!(cost > 0) || !double.IsFinite(cost))
            {
                faults.Add(name, "Is above zero.");
            }
        }

        if (faults.Any)
        {
            return faults.ToHttp();
        }

        return WeibullFit.Of([.. body.Ages.Select(age => new Age(age.Hours, age.Blocked))]) is { } life
            ? TypedResults.Ok(Answer(body, CleaningPlan.Of(life, body.PlannedCost, body.UnplannedCost)))
            : AnswerHttp.Problem(422, "Refused", "No life can be told from these: it takes blockages at two different ages at least.", "too-few-blockages");
    }

    private static CleaningAnswer Answer(CleaningBody body, CleaningPlan plan)
    {
        var blocked = body.Ages.Count(age => age.Blocked);
        return new CleaningAnswer(plan.Life.Shape, plan.Life.Scale, [plan.Life.Shape90.Low, double.IsInfinity(plan.Life.Shape90.High) ? null : plan.Life.Shape90.High], plan.Interval, plan.Saving, ReliabilityWords.OfCleaning(plan, blocked, body.Ages.Count - blocked, "h"));
    }
}
