using Drainboard.Domain;
using Drainboard.Domain.Accounts;
using Drainboard.Domain.Reliability;
using Drainboard.Web.Features.Door;
using Microsoft.AspNetCore.Http.HttpResults;

namespace Drainboard.Web.Features.Reliability;

/// <summary>What ended the watch.</summary>
public enum WatchEnded
{
    ByTime,
    ByFailure,
}

/// <param name="Times">When the faults came, since the watch began, in any one unit.</param>
public sealed record TrendBody(IReadOnlyList<double> Times, double End, WatchEnded Ended);

public sealed record LaplaceAnswer(double U, double P);

public sealed record MilitaryHandbookAnswer(double ChiSquare, int DegreesOfFreedom, double P);

public sealed record PowerLawAnswer(double Beta, double Lambda, double MeanTimeBetweenNow, IReadOnlyList<double> Beta90);

public sealed record TrendAnswer(LaplaceAnswer? Laplace, MilitaryHandbookAnswer? MilitaryHandbook, PowerLawAnswer? PowerLaw, TrendVerdict Verdict, IReadOnlyList<Explained> Explanation);

/// <summary>Whether faults come faster or slower, as an open computation.</summary>
internal static class ComputeTrendApi
{
    private const int MostTimes = 100_000;

    public static void MapComputeTrend(this IEndpointRouteBuilder api) =>
        api.MapPost("/compute/trend", Work).Needs(Act.Compute).OpenToGuests().ProducesProblem(400).WithTags("Compute").WithSummary("Whether the faults of one repairable fixture come faster or slower: Laplace (exact for few), MIL-HDBK-189 and a power law");

    private static Results<Ok<TrendAnswer>, ProblemHttpResult> Work(TrendBody body)
    {
        var faults = new Faults();
        if (body.Times.Count > MostTimes)
        {
            faults.Add("times", $"Give at most {MostTimes}.");
        }

        if (!(body.End > 0) || !double.IsFinite(body.End))
        {
            faults.Add("end", "Is above zero: how long the watch went on.");
        }

        foreach (var (index, time) in body.Times.Index().Where(one => !(one.Item > 0) || one.Item > body.End).Take(20))
        {
            faults.Add($"times[{index}]", "Is above zero and not after the end.");
        }

        if (!faults.Any && body.Ended == WatchEnded.ByFailure && (body.Times.Count == 0 || body.Times.Max() < body.End))
        {
            faults.Add("end", "A watch that a fault ended ends with the last fault: they are the same time.");
        }

        return faults.Any ? faults.ToHttp() : TypedResults.Ok(Answer(body));
    }

    private static TrendAnswer Answer(TrendBody body)
    {
        var byFault = body.Ended == WatchEnded.ByFailure;
        var trend = FaultTrend.Of(body.Times, body.End, byFault);
        return new TrendAnswer(
            trend.LaplaceU is { } u ? new LaplaceAnswer(u, trend.LaplaceP!.Value) : null,
            trend.ChiSquare is { } chi ? new MilitaryHandbookAnswer(chi, trend.DegreesOfFreedom!.Value, trend.ChiSquareP!.Value) : null,
            trend.Growth is { } growth ? new PowerLawAnswer(growth.Beta, growth.Lambda, growth.MeanTimeBetweenNow, [growth.Beta90.Low, growth.Beta90.High]) : null,
            trend.Verdict,
            ReliabilityWords.OfTrend(trend, byFault));
    }
}
