using System.Globalization;
using Drainboard.Domain;
using Drainboard.Domain.Accounts;
using Drainboard.Domain.Deferrals;
using Drainboard.Domain.Isolation;
using Drainboard.Web.Features.Door;
using Microsoft.AspNetCore.Http.HttpResults;

namespace Drainboard.Web.Features.Isolation;

public sealed record SegmentBody(string Id, double Prior);

public sealed record OutletBody(string Id, IReadOnlyList<string> Path);

public sealed record EvidenceBody(string Fixture, PourResult State);

/// <param name="Access">A panel that actions share; the first one behind it pays <paramref name="AccessMinutes"/>.</param>
public sealed record ActionBody(string Segment, double Minutes, string? Access = null, double AccessMinutes = 0);

/// <param name="Link">The chance that a blocked segment makes a fixture above it slow.</param>
/// <param name="Leak">The chance that a fixture is slow for no blockage.</param>
/// <param name="Evidence">Fixtures that were poured into. One left out was not tested, which is not the same as fine.</param>
/// <param name="PourMinutes">What one pour takes; 2 where it is left out.</param>
public sealed record IsolationBody(IReadOnlyList<SegmentBody> Segments, IReadOnlyList<OutletBody> Fixtures, double Link, double Leak, IReadOnlyList<EvidenceBody> Evidence, IReadOnlyList<ActionBody>? Actions = null, double? DeferMinutes = null, double? PourMinutes = null);

public sealed record NextCheckBody(string Fixture, double GainBits, double BitsPerMinute);

public sealed record IsolationAnswer(
    IReadOnlyDictionary<string, double> Marginals, IReadOnlyList<BlockedState> TopStates, double EvidenceProbability, IReadOnlyList<NextCheckBody> NextChecks,
    IReadOnlyList<string>? Order, int? StopAfter, double? ExpectedMinutes, IReadOnlyList<Explained> Explanation);

/// <summary>Where a drain is blocked, as an open computation: everything in the question, nothing from the database.</summary>
internal static class ComputeIsolationApi
{
    private const double CommonPourMinutes = 2;

    public static void MapComputeIsolation(this IEndpointRouteBuilder api) =>
        api.MapPost("/compute/isolation", Work).Needs(Act.Compute).OpenToGuests().ProducesProblem(400).ProducesProblem(422).WithTags("Compute").WithSummary("Where a drain is blocked: exact posterior on the drainage tree, what to pour next and what to open in which order");

    private static Results<Ok<IsolationAnswer>, ProblemHttpResult> Work(IsolationBody body)
    {
        var faults = new Faults();
        Check(body, faults);
        var (tree, unfit) = DrainTree.Build([.. body.Segments.DistinctBy(segment => segment.Id).Select(segment => new DrainSegment(segment.Id, segment.Prior))], [.. body.Fixtures.Select(fixture => new DrainOutlet(fixture.Id, fixture.Path))]);
        foreach (var (fixture, words) in unfit)
        {
            faults.Add($"fixtures[{fixture}].path", words);
        }

        if (faults.Any || tree is null)
        {
            return faults.ToHttp();
        }

        var twice = body.Evidence.GroupBy(one => one.Fixture).FirstOrDefault(group => group.Select(one => one.State).Distinct().Count() > 1);
        var evidence = body.Evidence.DistinctBy(one => one.Fixture).ToDictionary(one => one.Fixture, one => one.State, StringComparer.Ordinal);
        return twice is null && DrainInference.Infer(tree, new PourModel(body.Link, body.Leak), evidence) is { } posterior
            ? TypedResults.Ok(Answer(body, posterior))
            : AnswerHttp.Problem(422, "Refused", twice is not null ? $"{twice.Key} cannot be both slow and fine. Pour again, and give the newer result." : "No state of this drain could have given these results together: with a sure link and no leak they contradict each other. Pour again, or allow for some doubt (link below 1, leak above 0).", "inconsistent-evidence");
    }

    private static IsolationAnswer Answer(IsolationBody body, DrainPosterior posterior)
    {
        var pour = body.PourMinutes ?? CommonPourMinutes;
        var plan = body.Actions is { Count: > 0 } actions
            ? OpenOrder.Plan([.. actions.Select(action => new OpenAction(action.Segment, posterior.SingleFault[action.Segment], action.Minutes, action.Access, action.AccessMinutes))], body.DeferMinutes)
            : null;
        return new IsolationAnswer(
            posterior.Marginals, posterior.TopStates, posterior.EvidenceProbability, [.. posterior.NextPours.Select(gain => new NextCheckBody(gain.Outlet, gain.Bits, gain.Bits / pour))],
            plan?.Order, plan?.StopAfter, plan?.ExpectedMinutes, [.. Explain(body, posterior, plan)]);
    }

    private static IEnumerable<Explained> Explain(IsolationBody body, DrainPosterior posterior, OpenPlan? plan)
    {
        yield return new($"A fixture runs free with probability (1 - {Say(body.Leak)}) times (1 - {Say(body.Link)}) for each blocked segment on its path.", "noisy-OR, Pearl 1988");
        yield return new(body.Evidence.Count == 0 ? "Nothing was poured yet: these are the priors." : $"Poured: {string.Join(", ", body.Evidence.Select(one => $"{one.Fixture} {(one.State == PourResult.Slow ? "slow" : "fine")}"))}. That has a probability of {Say(posterior.EvidenceProbability)}. What was not poured is not taken for fine.", "our arithmetic");
        if (posterior.TopStates is [var top, ..])
        {
            yield return new($"Most likely {(top.Blocked.Count == 0 ? "nothing is blocked" : $"{string.Join(" and ", top.Blocked)} {(top.Blocked.Count == 1 ? "is" : "are")} blocked")}: {Say(top.Probability)}.", "our arithmetic");
        }

        if (posterior.NextPours is [var next, ..])
        {
            yield return new($"Pouring into {next.Outlet} tells most, {Say(next.Bits)} bits: it would be slow with probability {Say(next.SlowProbability)}.", "expected information gain; our arithmetic");
        }

        if (plan is not null)
        {
            yield return new($"Open in the order {string.Join(", ", plan.Order.Take(Math.Max(1, plan.StopAfter)))}{(body.DeferMinutes is null ? "" : $"; stop after {plan.StopAfter} and defer")}: {Say(plan.ExpectedMinutes)} minutes expected, if one thing is at fault.", "Heckerman, Breese and Rommelse, CACM 1995");
        }

        yield return new("This is advice. The approved manual decides what is opened and how.", "common practice");
    }

    private static void Check(IsolationBody body, Faults faults)
    {
        Unit(body.Link, "link", faults);
        Unit(body.Leak, "leak", faults);
        Unique(body.Segments.Select(segment => segment.Id), "segments", faults);
        Unique(body.Fixtures.Select(fixture => fixture.Id), "fixtures", faults);
        for (var at = 0; at < body.Segments.Count; at++)
        {
            if (!(body.Segments[at].Prior is >= 0 and < 1))
            {
                faults.Add($"segments[{at}].prior", "Is from 0 to below 1.");
            }
        }

        var (fixtures, segments) = (body.Fixtures.Select(fixture => fixture.Id).ToHashSet(), body.Segments.Select(segment => segment.Id).ToHashSet());
        for (var at = 0; at < body.Evidence.Count; at++)
        {
            if (!fixtures.Contains(body.Evidence[at].Fixture))
            {
                faults.Add($"evidence[{at}].fixture", $"There is no fixture \"{body.Evidence[at].Fixture}\".");
            }
        }

        var actions = body.Actions ?? [];
        Unique(actions.Select(action => action.Segment), "actions", faults);
        for (var at = 0; at < actions.Count; at++)
        {
            if (!segments.Contains(actions[at].Segment))
            {
                faults.Add($"actions[{at}].segment", $"There is no segment \"{actions[at].Segment}\".");
            }

            if (!(actions[at].Minutes is >= 0 and < 10_000 && actions[at].AccessMinutes is >= 0 and < 10_000))
            {
                faults.Add($"actions[{at}].minutes", "Is zero or more.");
            }
        }

        if (body.DeferMinutes is < 0)
        {
            faults.Add("deferMinutes", "Is zero or more.");
        }

        if (body.PourMinutes is <= 0)
        {
            faults.Add("pourMinutes", "Is above zero.");
        }
    }

    private static void Unit(double value, string path, Faults faults)
    {
        if (!(value is >= 0 and <= 1))
        {
            faults.Add(path, "Is from 0 to 1.");
        }
    }

    private static void Unique(IEnumerable<string> ids, string path, Faults faults)
    {
        foreach (var twice in ids.Select((id, at) => (id, at)).GroupBy(one => one.id).Where(group => group.Count() > 1))
        {
            faults.Add($"{path}[{twice.Last().at}]", $"\"{twice.Key}\" is given twice.");
        }
    }

    private static string Say(double value) => value.ToString("0.####", CultureInfo.InvariantCulture);
}
