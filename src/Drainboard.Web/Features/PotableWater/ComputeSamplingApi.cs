using Drainboard.Domain;
using Drainboard.Domain.Accounts;
using Drainboard.Domain.PotableWater;
using Drainboard.Web.Features.Door;
using Microsoft.AspNetCore.Http.HttpResults;
using NodaTime;

namespace Drainboard.Web.Features.PotableWater;

public sealed record SamplingDueBody(int DisinfectionsPerYear);

public sealed record SamplingDueAnswer(int RoutineSampleSetsPerYear, IReadOnlyList<Explained> Explanation);

/// <param name="NotifiedAt">When the laboratory told, or the miss or the boarding was discovered.</param>
/// <param name="CanShutOff">Whether the flow to every tap can be shut off.</param>
public sealed record SamplingResultBody(WaterEvent Kind, Instant NotifiedAt, bool CanShutOff);

/// <param name="DueAt">Included; null: no time of its own.</param>
/// <param name="Way">Where the rule leaves a choice, to which of the ways it belongs.</param>
/// <param name="Before">What must not happen until it is done.</param>
public sealed record SamplingAction(WaterAct Act, string What, Instant? DueAt, string? Way, string Before, string Source);

public sealed record SamplingResultAnswer(IReadOnlyList<SamplingAction> Actions, IReadOnlyList<Explained> Explanation);

/// <summary>How often drinking water is sampled, and what follows a result, as open computations.</summary>
internal static class ComputeSamplingApi
{
    private const string Rule = "40 CFR part 141 subpart X";
    private const int MostADay = 366;

    private static readonly Instant Earliest = Instant.FromUtc(2000, 1, 1, 0, 0);
    private static readonly Instant Latest = Instant.FromUtc(2200, 1, 1, 0, 0);

    private static readonly Explained Plan = new("The rule fixes no concentration: agent, concentration and contact time come from the operator's own plan, and the operator's programme may ask for more.", "40 CFR 141.804(b)(2)");

    public static void MapComputeSampling(this IEndpointRouteBuilder api)
    {
        api.MapPost("/compute/sampling-due", Due).Needs(Act.Compute).OpenToGuests().ProducesProblem(400).WithTags("Compute").WithSummary("Routine sets of drinking water samples a year, by how often the system is disinfected");
        api.MapPost("/compute/sampling-result", Result).Needs(Act.Compute).OpenToGuests().ProducesProblem(400).WithTags("Compute").WithSummary("What a result, a missed task or an unsafe source of drinking water asks for, and by when");
    }

    private static Results<Ok<SamplingDueAnswer>, ProblemHttpResult> Due(SamplingDueBody body)
    {
        var faults = new Faults();
        if (body.DisinfectionsPerYear is < 0 or > MostADay)
        {
            faults.Add("disinfectionsPerYear", $"Is 0 to {MostADay}.");
        }

        if (faults.Any)
        {
            return faults.ToHttp();
        }

        var sets = WaterRule.RoutineSetsPerYear(body.DisinfectionsPerYear);
        return TypedResults.Ok(new SamplingDueAnswer(sets,
        [
            new($"Disinfected and flushed {body.DisinfectionsPerYear} times a year: at least {sets} routine {(sets == 1 ? "set" : "sets")} of samples a year. The manufacturer's frequency of disinfection governs where there is one.", "40 CFR 141.803(b)(3), table B-1"),
            new("A set is one lavatory and one galley tap; with one tap two samples from it; one sample where a removable tank is drained daily and there is one tap.", "40 CFR 141.803(b)(2), (4)"),
            Plan,
        ]));
    }

    private static Results<Ok<SamplingResultAnswer>, ProblemHttpResult> Result(SamplingResultBody body)
    {
        var faults = new Faults();
        if (body.NotifiedAt < Earliest || body.NotifiedAt > Latest)
        {
            faults.Add("notifiedAt", "Is a time between 2000 and 2200.");
            return faults.ToHttp();
        }

        var actions = WaterRule.ActionsAfter(body.Kind, body.NotifiedAt, body.CanShutOff);
        return TypedResults.Ok(new SamplingResultAnswer(
            [.. actions.Select(action => new SamplingAction(action.Act, action.Act.Words(), action.DueAt, action.Way, action.Before, $"40 CFR {action.Source}"))],
            [
                new(actions.Any(action => action.Way is not null) ? "One of the ways i, ii and iii is gone, and all of it; what has no way is always done." : "All of it is done.", Rule),
                new(body.CanShutOff ? "While every tap is physically shut off a notice to the galley crew is enough; where one is not, the lavatories get notices too." : "The taps cannot be shut off: notices in the lavatories too.", "40 CFR 141.805(c)"),
                Plan,
            ]));
    }
}
