using Drainboard.Domain;
using Drainboard.Domain.Accounts;
using Drainboard.Domain.Fleet;
using Drainboard.Web.Features.Items;
using Drainboard.Web.Features.Paper;
using Drainboard.Web.Features.Door;
using Microsoft.AspNetCore.Http.HttpResults;
using NodaTime;

namespace Drainboard.Web.Features.PotableWater;

internal static class PotableWaterApi
{
    public static void MapPotableWater(this IEndpointRouteBuilder api)
    {
        var group = api.MapGroup("").WithTags("Drinking water");
        group.MapGet("/water", Fleet).Needs(Act.Look).WithSummary("The drinking water of every tail: restricted first, then what is over, then what is due");
        group.MapGet("/water-programmes", Programmes).Needs(Act.Look).WithSummary("Drinking water programmes, the newest version of each");
        group.MapPut("/water-programmes/{code}", Save).Needs(Act.ManageWater).Changes().WithSummary("Save a programme (If-None-Match: *) or its next version (If-Match with the newest); tails under it follow");
        group.MapGet("/tails/{registration}/water", Tail).Needs(Act.Look).ProducesProblem(404).WithSummary("A tail's drinking water: whether it may be served, what runs, what is due, what was done");
        group.MapGet("/tails/{registration}/water/cases/{id:guid}/report.pdf", ReportPdf).Needs(Act.Look).Produces(200, contentType: "application/pdf").ProducesProblem(404).WithSummary("Draft of the report of a non-routine event (40 CFR 141.806), with what is missing marked; size=A4 or Letter");
        group.MapGet("/tails/{registration}/water/cases/{id:guid}/report.txt", ReportText).Needs(Act.Look).Produces<string>(200, "text/plain").ProducesProblem(404).WithSummary("The same as text");
        group.MapPost("/tails/{registration}/water/programme", Keep).Needs(Act.ManageWater).ProducesProblem(404).ProducesProblem(422).WithSummary("Put a tail under a programme");
        group.MapPost("/tails/{registration}/water/deeds", Do).Needs(Act.WorkOnWater).ProducesProblem(404).ProducesProblem(422).WithSummary("Record a disinfection and flushing, a self-inspection, a deficiency, a serviced item");
        group.MapPost("/tails/{registration}/water/deeds/{id:guid}/void", VoidDeed).Needs(Act.JudgeWater).ProducesProblem(404).ProducesProblem(422).WithSummary("Take out something that was entered in error; it counts as not done");
        group.MapPost("/tails/{registration}/water/samples", Collect).Needs(Act.WorkOnWater).ProducesProblem(404).ProducesProblem(422).WithSummary("Record that a set of samples was collected");
        group.MapPost("/tails/{registration}/water/cases", Open).Needs(Act.JudgeWater).ProducesProblem(404).ProducesProblem(422).WithSummary("Open a case: a missed task, an unsafe source, a result that came another way");
        group.MapPost("/tails/{registration}/water/samples/{id:guid}/results", Tell).Needs(Act.JudgeWater).Changes().ProducesProblem(404).WithSummary("Take over a laboratory's results; a positive one opens its case");
        group.MapPost("/tails/{registration}/water/samples/{id:guid}/void", Void).Needs(Act.JudgeWater).Changes().ProducesProblem(404).WithSummary("Take a set out as not valid; it counts as not taken");
        group.MapPost("/tails/{registration}/water/cases/{id:guid}/way", Choose).Needs(Act.JudgeWater).Changes().ProducesProblem(404).WithSummary("Choose one of the ways that the rule leaves");
        group.MapPost("/tails/{registration}/water/cases/{id:guid}/step", Step).Needs(Act.WorkOnWater).Changes().ProducesProblem(404).WithSummary("Say that a restriction, a notice or a report is done");
        group.MapPost("/tails/{registration}/water/cases/{id:guid}/lifting", Lift).Needs(Act.LiftWater).Changes().ProducesProblem(404).WithSummary("Give access back, signed; refused until the rule's condition holds");
    }

    private static async Task<IResult> ReportPdf(string registration, Guid id, WaterReportQuery query, CancellationToken stop, string? size = null) => DraftFile.Pdf(await query.ReadAsync(registration, id, stop), $"water-{registration}", size);

    private static async Task<IResult> ReportText(string registration, Guid id, WaterReportQuery query, CancellationToken stop) => DraftFile.Text(await query.ReadAsync(registration, id, stop));

    private static async Task<Ok<WaterFleetView>> Fleet(WaterFleetQuery query, CancellationToken stop) => TypedResults.Ok(await query.ReadAsync(stop));

    private static async Task<Ok<IReadOnlyList<WaterProgrammeView>>> Programmes(WaterProgrammesQuery query, CancellationToken stop) => TypedResults.Ok(await query.ReadAsync(stop));

    private static async Task<Results<Ok<WaterView>, ProblemHttpResult>> Tail(string registration, WaterQuery query, CancellationToken stop) =>
        Registration.TryParse(registration, out var mark) && await query.ReadAsync(mark, stop) is { } view
            ? TypedResults.Ok(view)
            : AnswerHttp.Problem(404, "Not found", $"There is no tail \"{registration}\".", "not-found");

    private static async Task<ChangeResult> Save(string code, SaveWaterProgrammeRequest request, SaveWaterProgrammeHandler handler, HttpContext http, CancellationToken stop) =>
        (await handler.HandleAsync(http.Changing() with { Command = request.Id }, code, request, stop)).ToHttp(http);

    private static async Task<ChangeResult> Keep(string registration, KeepWaterByRequest request, KeepWaterByHandler handler, HttpContext http, CancellationToken stop) =>
        (await handler.HandleAsync(http.Creating(request.Id), registration, request, stop)).ToHttp(http);

    private static async Task<ChangeResult> Do(string registration, RecordWaterDeedRequest request, RecordWaterDeedHandler handler, HttpContext http, CancellationToken stop) =>
        (await handler.HandleAsync(http.Creating(request.Id), registration, request, stop)).ToHttp(http, $"/api/v1/tails/{registration}/water");

    private static async Task<ChangeResult> VoidDeed(string registration, Guid id, ReasonRequest request, VoidWaterDeedHandler handler, HttpContext http, CancellationToken stop) =>
        (await handler.HandleAsync(http.Creating(NewId.At(http.RequestServices.GetRequiredService<IClock>().GetCurrentInstant())), registration, id, request, stop)).ToHttp(http);

    private static async Task<ChangeResult> Collect(string registration, CollectSamplesRequest request, CollectSamplesHandler handler, HttpContext http, CancellationToken stop) =>
        (await handler.HandleAsync(http.Creating(request.Id), registration, request, stop)).ToHttp(http, $"/api/v1/tails/{registration}/water");

    private static async Task<ChangeResult> Open(string registration, OpenWaterCaseRequest request, OpenWaterCaseHandler handler, HttpContext http, CancellationToken stop) =>
        (await handler.HandleAsync(http.Creating(request.Id), registration, request, stop)).ToHttp(http, $"/api/v1/tails/{registration}/water");

    private static async Task<ChangeResult> Tell(string registration, Guid id, TellSamplesRequest request, TellSamplesHandler handler, HttpContext http, CancellationToken stop) =>
        (await handler.HandleAsync(http.Changing(), registration, id, request, stop)).ToHttp(http);

    private static async Task<ChangeResult> Void(string registration, Guid id, ReasonRequest request, VoidSamplesHandler handler, HttpContext http, CancellationToken stop) =>
        (await handler.HandleAsync(http.Changing(), registration, id, request, stop)).ToHttp(http);

    private static async Task<ChangeResult> Choose(string registration, Guid id, ChooseWaterWayRequest request, ChooseWaterWayHandler handler, HttpContext http, CancellationToken stop) =>
        (await handler.HandleAsync(http.Changing(), registration, id, request, stop)).ToHttp(http);

    private static async Task<ChangeResult> Step(string registration, Guid id, DoWaterStepRequest request, DoWaterStepHandler handler, HttpContext http, CancellationToken stop) =>
        (await handler.HandleAsync(http.Changing(), registration, id, request, stop)).ToHttp(http);

    private static async Task<ChangeResult> Lift(string registration, Guid id, LiftWaterRequest request, LiftWaterHandler handler, HttpContext http, CancellationToken stop) =>
        (await handler.HandleAsync(http.Changing(), registration, id, request, stop)).ToHttp(http);
}
