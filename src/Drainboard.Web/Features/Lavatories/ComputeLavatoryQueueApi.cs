using System.Globalization;
using Drainboard.Domain;
using Drainboard.Domain.Accounts;
using Drainboard.Domain.Lavatories;
using Drainboard.Web.Features.Door;
using Drainboard.Web.Features.TurnFit;
using Microsoft.AspNetCore.Http.HttpResults;

namespace Drainboard.Web.Features.Lavatories;

/// <param name="UsesPerPassengerHour">How often one passenger goes, in an hour.</param>
/// <param name="MinutesPerUse">Occupied, on average.</param>
/// <param name="Lavatories">In service.</param>
public sealed record LavatoryQueueBody(int Passengers, double UsesPerPassengerHour, double MinutesPerUse, int Lavatories);

public sealed record OpenModelAnswer(double WaitProbability, double MeanWaitMinutes, double WaitOverThreeMinutes, double WaitOverTenMinutes);

/// <param name="MeanWaitMinutes">Over all who come, those who do not wait included.</param>
/// <param name="MeanWaitOfWaitingMinutes">Over those who wait.</param>
public sealed record FiniteModelAnswer(double ArrivingWaitProbability, double MeanWaitMinutes, double MeanWaitOfWaitingMinutes, double AllOccupiedShare, double MeanWaiting);

/// <param name="OpenModel">Null where more come than can be served.</param>
/// <param name="FiniteModel">Null where no lavatory is in service or nobody is there.</param>
public sealed record LavatoryQueueAnswer(OpenModelAnswer? OpenModel, FiniteModelAnswer? FiniteModel, IReadOnlyList<Explained> Explanation);

/// <summary>How long passengers wait, as an open computation.</summary>
internal static class ComputeLavatoryQueueApi
{
    private const int MostPassengers = 1000;
    private const int MostLavatories = 100;

    public static void MapComputeLavatoryQueue(this IEndpointRouteBuilder api) =>
        api.MapPost("/compute/lavatory-queue", Work).Needs(Act.Compute).OpenToGuests().ProducesProblem(400).WithTags("Compute").WithSummary("How many wait for a lavatory, and how long");

    private static Results<Ok<LavatoryQueueAnswer>, ProblemHttpResult> Work(LavatoryQueueBody body)
    {
        var faults = new Faults();
        if (body.Passengers is < 0 or > MostPassengers)
        {
            faults.Add("passengers", $"Is 0 to {MostPassengers}.");
        }

        if (body.Lavatories is < 0 or > MostLavatories)
        {
            faults.Add("lavatories", $"Is 0 to {MostLavatories}.");
        }

        foreach (var (name, value) in new[] { ("usesPerPassengerHour", body.UsesPerPassengerHour), ("minutesPerUse", body.MinutesPerUse) })
        {
            if (!(value is >= 0.001 and <= 60))
            {
                faults.Add(name, "Is 0.001 to 60.");
            }
        }

        if (faults.Any)
        {
            return faults.ToHttp();
        }

        var (needs, served) = (body.UsesPerPassengerHour / 60, 1 / body.MinutesPerUse);
        var arrivals = body.Passengers * needs;
        var open = body.Passengers == 0 ? null : OpenQueue.Of(arrivals, served, body.Lavatories);
        var finite = body.Passengers == 0 || body.Lavatories == 0 ? null : FiniteQueue.Of(body.Passengers, needs, served, body.Lavatories);
        return TypedResults.Ok(new LavatoryQueueAnswer(
            open is null ? null : new OpenModelAnswer(open.WaitProbability, open.MeanWait, open.ChanceOfLonger(3, arrivals, served, body.Lavatories), open.ChanceOfLonger(10, arrivals, served, body.Lavatories)),
            finite is null ? null : new FiniteModelAnswer(finite.ArrivingWaitProbability, finite.MeanWait, finite.MeanWaitOfWaiting, finite.AllOccupied, finite.MeanWaiting),
            [
                new(finite is null ? "Nobody is there, or no lavatory is in service." : $"Of those who come {FitView.Percent(finite.ArrivingWaitProbability)} find every lavatory occupied, and then wait {finite.MeanWaitOfWaiting.ToString("0.0", CultureInfo.InvariantCulture)} min on average.", "finite source, what an arriving passenger finds (arrival theorem)"),
                new(body.Passengers == 0 ? "Nobody comes." : open is null ? "If passengers came at the same rate however many wait already, the wait would grow without end." : $"If passengers came at the same rate however many wait already, {FitView.Percent(open.WaitProbability)} would wait.", "Erlang C"),
                new("Uses come in peaks, after a meal above all: ask again with the rate of the peak. Times inside are taken as exponential, which overstates waiting where they vary less.", "our arithmetic"),
            ]));
    }
}
