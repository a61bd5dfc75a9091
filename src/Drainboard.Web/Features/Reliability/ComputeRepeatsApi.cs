using Drainboard.Domain;
using Drainboard.Domain.Accounts;
using Drainboard.Domain.Reliability;
using Drainboard.Web.Features.Door;
using Microsoft.AspNetCore.Http.HttpResults;

namespace Drainboard.Web.Features.Reliability;

public sealed record FixtureCountBody(string Id, int Events, double Exposure);

/// <param name="FalseDiscoveryRate">Of those that are flagged, the share that may be so by chance; 0.05 where left out.</param>
public sealed record RepeatsBody(IReadOnlyList<FixtureCountBody> Fixtures, ExposureUnit ExposureUnit = ExposureUnit.Sectors, double? FalseDiscoveryRate = null);

public sealed record PriorAnswer(double Alpha, double Beta);

public sealed record FixtureRateAnswer(string Id, double Rate, IReadOnlyList<double> Interval95, double PWorseThanRest, double PAdjusted, double PosteriorMean, double Posterior05, bool Flagged);

/// <param name="Prior">Null where the fleet cannot be told from one common rate.</param>
/// <param name="Fixtures">By <c>posterior05</c>, the highest first; then by <c>pWorseThanRest</c>, then by id.</param>
public sealed record RepeatsAnswer(double FleetRate, PriorAnswer? Prior, IReadOnlyList<FixtureRateAnswer> Fixtures, IReadOnlyList<Explained> Explanation);

/// <summary>Who is truly worse in a fleet of like fixtures, as an open computation.</summary>
internal static class ComputeRepeatsApi
{
    private const int MostFixtures = 100_000;

    public static void MapComputeRepeats(this IEndpointRouteBuilder api) =>
        api.MapPost("/compute/repeats", Work).Needs(Act.Compute).OpenToGuests().ProducesProblem(400).WithTags("Compute").WithSummary("Which fixtures of a fleet are truly worse than the rest: exact rates and tests, adjusted for how many were tested, ranked by what is all but certain of them");

    private static Results<Ok<RepeatsAnswer>, ProblemHttpResult> Work(RepeatsBody body)
    {
        var faults = WhatIsWrong(body);
        return faults.Any ? faults.ToHttp() : TypedResults.Ok(Answer(body));
    }

    private static Faults WhatIsWrong(RepeatsBody body)
    {
        var faults = new Faults();
        if (body.Fixtures.Count is 0 or > MostFixtures)
        {
            faults.Add("fixtures", $"Give 1 to {MostFixtures} fixtures.");
        }

        var ids = new HashSet<string>(StringComparer.Ordinal);
        foreach (var (index, one) in body.Fixtures.Index())
        {
            if (!ids.Add(one.Id))
            {
                faults.Add($"fixtures[{index}].id", $"\"{one.Id}\" is there twice.");
            }

            if (one.Events < 0)
            {
                faults.Add($"fixtures[{index}].events", "Is zero or more.");
            }

            if (!(one.Exposure > 0) || !double.IsFinite(one.Exposure))
            {
                faults.Add($"fixtures[{index}].exposure", "Is above zero. Leave out a fixture that has not flown: it says nothing.");
            }
        }

        if (body.FalseDiscoveryRate is { } rate && !(rate > 0 && rate < 1))
        {
            faults.Add("falseDiscoveryRate", "Is above 0 and below 1, for example 0.05.");
        }

        return faults;
    }

    private static RepeatsAnswer Answer(RepeatsBody body)
    {
        var discovery = body.FalseDiscoveryRate ?? FleetRates.UsualFalseDiscovery;
        var fleet = FleetRates.Of([.. body.Fixtures.Select(one => new FixtureCount(one.Id, one.Events, one.Exposure))], discovery);
        var unit = body.ExposureUnit switch
        {
            ExposureUnit.Sectors => "sector",
            ExposureUnit.FlightHours => "flight hour",
            ExposureUnit.Days => "day",
            _ => throw new InvalidOperationException($"Unknown unit {body.ExposureUnit}."),
        };
        var ranked = fleet.Fixtures.OrderByDescending(one => one.Posterior05).ThenBy(one => one.PWorse).ThenBy(one => one.Count.Id, StringComparer.Ordinal);
        return new RepeatsAnswer(
            fleet.Rate,
            fleet.Prior is { } prior ? new PriorAnswer(prior.Alpha, prior.Beta) : null,
            [.. ranked.Select(one => new FixtureRateAnswer(one.Count.Id, one.Rate, [one.Limits95.Low, one.Limits95.High], one.PWorse, one.PAdjusted, one.PosteriorMean, one.Posterior05, one.IsFlagged))],
            ReliabilityWords.OfFleet(fleet, unit, discovery));
    }
}
