using Drainboard.Domain;
using Drainboard.Domain.Accounts;
using Drainboard.Domain.Reliability;
using Drainboard.Web.Features.Door;
using Microsoft.AspNetCore.Http.HttpResults;

namespace Drainboard.Web.Features.Reliability;

/// <param name="Service">The chance to have one when it is asked for, over the whole time: above 0 and below 1.</param>
public sealed record SparesBody(int Installed, double RatePerThousandHours, double Hours, double Service);

public sealed record SparesAnswer(double MeanDemand, int Stock, double Achieved, IReadOnlyList<Explained> Explanation);

/// <summary>How many to keep, as an open computation.</summary>
internal static class ComputeSparesApi
{
    public static void MapComputeSpares(this IEndpointRouteBuilder api) =>
        api.MapPost("/compute/spares", Work).Needs(Act.Compute).OpenToGuests().ProducesProblem(400).ProducesProblem(422).WithTags("Compute").WithSummary("The least stock that serves a time with the chance asked for");

    private static Results<Ok<SparesAnswer>, ProblemHttpResult> Work(SparesBody body)
    {
        var faults = new Faults();
        if (body.Installed < 0)
        {
            faults.Add("installed", "Is zero or more.");
        }

        foreach (var (name, value) in new[] { ("ratePerThousandHours", body.RatePerThousandHours), ("hours", body.Hours) })
        {
            if (!(value >= 0) || !double.IsFinite(value))
            {
                faults.Add(name, "Is zero or more.");
            }
        }

        if (!(body.Service > 0 && body.Service < 1))
        {
            faults.Add("service", "Is above 0 and below 1, for example 0.95.");
        }

        if (faults.Any)
        {
            return faults.ToHttp();
        }

        var mean = body.Installed * body.RatePerThousandHours / 1000 * body.Hours;
        if (mean > SpareStock.LargestMean)
        {
            return AnswerHttp.Problem(422, "Refused", $"A demand of {ReliabilityWords.Say(mean)} is no matter of spares on a shelf. Check the rate and the hours.", "demand-too-large");
        }

        var stock = SpareStock.For(mean, body.Service);
        return TypedResults.Ok(new SparesAnswer(stock.MeanDemand, stock.Stock, stock.Achieved,
        [
            new($"{body.Installed} installed at {ReliabilityWords.Say(body.RatePerThousandHours)} in a thousand hours over {ReliabilityWords.Say(body.Hours)} h: {ReliabilityWords.Say(mean)} are expected to be asked for.", "Poisson; our arithmetic"),
            new($"{stock.Stock} serve with a chance of {ReliabilityWords.Say(100 * stock.Achieved)} %: demand at most the stock (ready rate).", "our arithmetic"),
            new("A few fixtures that fail far more often than the rest make demand more uneven than this. Pack sizes and repair times are not in it.", "common practice"),
        ]));
    }
}
