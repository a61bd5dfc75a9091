using System.Globalization;
using System.Text.Json.Serialization;
using Drainboard.Domain;
using Drainboard.Domain.Accounts;
using Drainboard.Domain.Deferrals;
using Drainboard.Domain.Pours;
using Drainboard.Web.Features.Door;
using Microsoft.AspNetCore.Http.HttpResults;

namespace Drainboard.Web.Features.Pours;

[JsonPolymorphic(TypeDiscriminatorPropertyName = "shape")]
[JsonDerivedType(typeof(PrismBody), "prism")]
[JsonDerivedType(typeof(HemisphereBody), "hemisphere")]
[JsonDerivedType(typeof(FrustumBody), "frustum")]
public abstract record BasinBody;

public sealed record PrismBody(double AreaSquareMetres) : BasinBody;

public sealed record HemisphereBody(double RadiusMetres) : BasinBody;

public sealed record FrustumBody(double BottomRadiusMetres, double Slope) : BasinBody;

/// <param name="Basin">Needed for areas; openness alone needs only the two times.</param>
/// <param name="SecondsUncertainty">Standard uncertainty of the time taken.</param>
/// <param name="ReferenceSeconds">The same basin, clean, between the same marks.</param>
/// <param name="CleanDrainAreaSquareMillimetres">The opening of the drain behind the strainer.</param>
public sealed record OpennessBody(
    double Seconds, BasinBody? Basin = null, double? FromDepthMetres = null, double? ToDepthMetres = null, double? SecondsUncertainty = null, double? ReferenceSeconds = null,
    double? DischargeCoefficient = null, double? TailpipeMetres = null, double? CleanDrainAreaSquareMillimetres = null, double? Gravity = null);

public sealed record OpennessAnswer(double? EffectiveAreaSquareMillimetres, double? Openness, double? OpennessUncertainty, double? StrainerAreaSquareMillimetres, bool StrainerNotLimiting, IReadOnlyList<Explained> Explanation);

/// <summary>The timed pour as an open computation: everything in the question, nothing from the database.</summary>
internal static class ComputeOpennessApi
{
    private const double SquareMillimetres = 1e6;

    public static void MapComputeOpenness(this IEndpointRouteBuilder api) =>
        api.MapPost("/compute/openness", Work).Needs(Act.Compute).OpenToGuests().ProducesProblem(400).ProducesProblem(422).WithTags("Compute").WithSummary("How open a gravity drain is, from a timed pour on the ground: against its clean reference, and as areas where the basin is described");

    private static Results<Ok<OpennessAnswer>, ProblemHttpResult> Work(OpennessBody body)
    {
        var faults = new Faults();
        var basin = Read(body, faults);
        if (faults.Any)
        {
            return faults.ToHttp();
        }

        return WhyNot(body) is { } no ? AnswerHttp.Problem(422, "Refused", no.Words, no.Code) : TypedResults.Ok(Answer(body, basin));
    }

    /// <summary>The same for a page: the answer, or in words why there is none.</summary>
    public static (OpennessAnswer? Answer, string? Trouble) Try(OpennessBody body)
    {
        var faults = new Faults();
        var basin = Read(body, faults);
        return faults.Any ? (null, faults.Words) : WhyNot(body) is { } no ? (null, no.Words) : (Answer(body, basin), null);
    }

    private static Refusal? WhyNot(OpennessBody body) =>
        body.ReferenceSeconds > body.Seconds + (2 * (body.SecondsUncertainty ?? 0))
            ? new Refusal("reference-slower", $"The clean reference took {Say(body.ReferenceSeconds.Value)} s, longer than this test's {Say(body.Seconds)} s. Check that both were between the same marks, and take a new reference if the drain was never this free.")
            : null;

    private static OpennessAnswer Answer(OpennessBody body, Basin? basin)
    {
        var steps = new List<Explained>();
        var (discharge, tailpipe, gravity) = (body.DischargeCoefficient ?? DrainTest.SharpEdge, body.TailpipeMetres ?? 0, body.Gravity ?? DrainTest.StandardGravity);
        double? openness = body.ReferenceSeconds is { } reference ? DrainTest.Openness(reference, body.Seconds) : null;
        var uncertainty = openness * body.SecondsUncertainty / body.Seconds;
        if (openness is { } open)
        {
            steps.Add(new($"Clean it took {Say(body.ReferenceSeconds!.Value)} s, now {Say(body.Seconds)} s between the same marks: {Say(open)} of the clean opening. Geometry and discharge cancel.", "Torricelli; our arithmetic"));
            steps.Add(new(uncertainty is { } spread ? $"The time's uncertainty makes that plus or minus {Say(spread)} (one standard uncertainty; the reference taken as given)." : "No uncertainty was given for the time.", "GUM, first order; our arithmetic"));
        }

        double? area = basin is null ? null : DrainTest.Area(basin, body.FromDepthMetres!.Value, body.ToDepthMetres!.Value, body.Seconds, discharge, tailpipe, gravity) * SquareMillimetres;
        double? strainer = null;
        var notLimiting = false;
        if (area is { } effective)
        {
            steps.Add(new($"From {Say(body.FromDepthMetres!.Value)} m to {Say(body.ToDepthMetres!.Value)} m in {Say(body.Seconds)} s, with a discharge coefficient of {Say(discharge)}{(tailpipe > 0 ? $" and {Say(tailpipe)} m of filled tailpipe" : "")}: an opening of {Say(effective)} mm2.", "Torricelli; discharge of a thin sharp edge 0.60 to 0.62 (Unwin, Encyclopaedia Britannica 1911)"));
            if (body.CleanDrainAreaSquareMillimetres is { } drain)
            {
                strainer = DrainTest.InSeries(effective, drain);
                notLimiting = strainer is null;
                steps.Add(new(strainer is { } own ? $"With a clean drain of {Say(drain)} mm2 behind it, the strainer alone has {Say(own)} mm2." : $"The whole lets through as much as the clean drain of {Say(drain)} mm2: the strainer is not what limits.", "openings in series; our arithmetic"));
            }
        }

        steps.Add(new("A ground test of a gravity drain only. The approved manual's limit decides.", "common practice"));
        return new OpennessAnswer(area, openness, uncertainty, strainer, notLimiting, steps);
    }

    private static Basin? Read(OpennessBody body, Faults faults)
    {
        Above(body.Seconds, "seconds", faults);
        Above(body.ReferenceSeconds, "referenceSeconds", faults);
        Above(body.DischargeCoefficient, "dischargeCoefficient", faults);
        Above(body.CleanDrainAreaSquareMillimetres, "cleanDrainAreaSquareMillimetres", faults);
        Above(body.Gravity, "gravity", faults);
        if (body.DischargeCoefficient > 1)
        {
            faults.Add("dischargeCoefficient", "Is at most 1.");
        }

        if (body.SecondsUncertainty is < 0)
        {
            faults.Add("secondsUncertainty", "Is zero or more.");
        }

        if (body.TailpipeMetres is < 0)
        {
            faults.Add("tailpipeMetres", "Is zero or more.");
        }

        if (body.Basin is null)
        {
            if (body.ReferenceSeconds is null)
            {
                faults.Add("basin", "Describe the basin, or give referenceSeconds: from the time alone nothing follows.");
            }

            return null;
        }

        if (body.FromDepthMetres is not > 0)
        {
            faults.Add("fromDepthMetres", "Is the depth at the start, above zero.");
        }

        if (body.ToDepthMetres is not { } to || to < 0 || to >= body.FromDepthMetres)
        {
            faults.Add("toDepthMetres", "Is the depth at the end: zero or more, and below fromDepthMetres.");
        }

        return Shape(body, faults);
    }

    private static Basin? Shape(OpennessBody body, Faults faults)
    {
        switch (body.Basin)
        {
            case PrismBody prism:
                Above(prism.AreaSquareMetres, "basin.areaSquareMetres", faults);
                return new Basin.Prism(prism.AreaSquareMetres);
            case HemisphereBody bowl:
                Above(bowl.RadiusMetres, "basin.radiusMetres", faults);
                if (body.FromDepthMetres > bowl.RadiusMetres)
                {
                    faults.Add("fromDepthMetres", "Is no more than the radius of the bowl.");
                }

                return new Basin.Hemisphere(bowl.RadiusMetres);
            case FrustumBody cone:
                Above(cone.BottomRadiusMetres, "basin.bottomRadiusMetres", faults);
                if (cone.BottomRadiusMetres + (cone.Slope * (body.FromDepthMetres ?? 0)) <= 0)
                {
                    faults.Add("basin.slope", "Closes the basin below the mark.");
                }

                return new Basin.Frustum(cone.BottomRadiusMetres, cone.Slope);
            default:
                return null;
        }
    }

    private static void Above(double? value, string path, Faults faults)
    {
        if (value is { } given && !(given > 0 && double.IsFinite(given)))
        {
            faults.Add(path, "Is above zero.");
        }
    }

    private static string Say(double value) => value.ToString("0.####", CultureInfo.InvariantCulture);
}
