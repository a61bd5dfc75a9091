using Drainboard.Domain.Accounts;
using Drainboard.Domain.Defects;
using Drainboard.Domain.Deferrals;
using Drainboard.Web.Features.Defects;
using Drainboard.Web.Features.Door;
using Drainboard.Web.Features.Items;
using Drainboard.Web.Hosting;
using Microsoft.AspNetCore.Http.HttpResults;

namespace Drainboard.Web.Features.Deferrals;

internal static class DeferralsApi
{
    public static void MapDeferrals(this IEndpointRouteBuilder api)
    {
        var group = api.MapGroup("").WithTags("Deferrals");
        group.MapGet("/clocks", Clocks).Needs(Act.Look).WithSummary("Every running deferral as control works: lapsed, then those that no planned stay can take in time, then by due time, with the flights of the coming week that may not depart with it. Filters: station, tail, category, shown (lapsed, day, stranded, notice)");
        group.MapGet("/clocks.csv", Csv).Needs(Act.Look).Produces(200, contentType: "text/csv").WithSummary("The same as CSV, with the same filters; notices to the authority of ended deferrals with shown=notice");
        group.MapGet("/defects/{id:guid}/deferral/clock", Why).Needs(Act.Look).ProducesProblem(404).WithSummary("The clock explained step by step, counted anew from the flights as they stand");
        group.MapPut("/policies/{name}", SavePolicy).Needs(Act.ManagePolicies).Changes().WithSummary("Make the next version of a policy of your own; If-Match the version seen, or If-None-Match: * for the first");
        group.MapGet("/bases", Bases).Needs(Act.Look).OpenToGuests().WithSummary("The operator's items under which a defect may be carried");
        group.MapGet("/policies", Policies).Needs(Act.Look).OpenToGuests().WithSummary("Deferral policies, each field with its source: the presets, and the newest of your own");
        group.MapPost("/defects/{id:guid}/deferral", Propose).Needs(Act.ProposeDeferral).Changes().WithSummary("Propose to carry the defect; the body's id is the deferral's and the idempotency key");
        group.MapPost("/defects/{id:guid}/deferral/preparation", Prepare).Needs(Act.PrepareDeferral).Changes().WithSummary("Tick conditions and placard");
        group.MapPost("/defects/{id:guid}/deferral/authorisation", Authorise).Needs(Act.AuthoriseDeferral).Changes().WithSummary("Maintenance control authorises");
        group.MapPost("/defects/{id:guid}/deferral/certification", Certify).Needs(Act.CertifyDeferral).Changes().WithSummary("The certifying technician signs");
        group.MapPost("/defects/{id:guid}/deferral/extension", Extend).Needs(Act.ExtendDeferral).Changes().WithSummary("Extend a running clock, where the policy allows");
        group.MapPost("/defects/{id:guid}/deferral/notice", Notice).Needs(Act.RecordNotice).Changes().WithSummary("The authority has been told of the extension");
        group.MapPost("/defects/{id:guid}/deferral/condition", DoCondition).Needs(Act.DoCondition).Changes().WithSummary("A condition that repeats has been done again");
        group.MapPost("/defects/{id:guid}/deferral/end", End).Needs(Act.EndDeferral).Changes().WithSummary("End it without work, or withdraw a proposal");
    }

    private static async Task<Ok<ClocksView>> Clocks(ClocksQuery query, CancellationToken stop, string? station = null, string? tail = null, string? category = null, string? shown = null)
    {
        var (view, filter) = (await query.ReadAsync(stop), ClocksFilter.Of(station, tail, category, shown));
        return TypedResults.Ok(filter.IsAll ? view : new ClocksView(view.Now, [.. filter.Of(view.Lines)], [.. filter.Of(view.Awaiting)], [.. filter.Of(view.Notices)]));
    }

    private static async Task<FileContentHttpResult> Csv(ClocksQuery query, CancellationToken stop, string? station = null, string? tail = null, string? category = null, string? shown = null)
    {
        var view = await query.ReadAsync(stop);
        return CsvText.File("clocks.csv", ClocksCsv.Write(view, view.Listed(ClocksFilter.Of(station, tail, category, shown))));
    }

    private static async Task<Results<Ok<ClockWhy>, ProblemHttpResult>> Why(Guid id, ClockWhyQuery query, CancellationToken stop) =>
        await query.ReadAsync(new DefectId(id), stop) is { } why ? TypedResults.Ok(why) : AnswerHttp.Problem(404, "Not found", "There is no such defect, or it never had a deferral with an interval.", "not-found");

    private static async Task<Ok<IReadOnlyList<PolicyView>>> Policies(PoliciesQuery query, CancellationToken stop) => TypedResults.Ok(await query.ReadAsync(stop));

    private static async Task<ChangeResult> SavePolicy(string name, SavePolicyRequest request, SavePolicyHandler handler, HttpContext http, CancellationToken stop) =>
        (await handler.HandleAsync(http.Changing(), name, request, stop)).ToHttp(http);

    private static async Task<ChangeResult> Notice(Guid id, RecordNoticeRequest request, RecordNoticeHandler handler, HttpContext http, CancellationToken stop) =>
        (await handler.HandleAsync(http.Changing(), new DefectId(id), request, stop)).ToHttp(http);

    private static async Task<ChangeResult> DoCondition(Guid id, DoConditionRequest request, DoConditionHandler handler, HttpContext http, CancellationToken stop) =>
        (await handler.HandleAsync(http.Changing(), new DefectId(id), request, stop)).ToHttp(http);

    private static async Task<Ok<IReadOnlyList<BasisView>>> Bases(BasesQuery query, CancellationToken stop) => TypedResults.Ok(await query.ReadAsync(stop));

    private static async Task<ChangeResult> Propose(Guid id, ProposeDeferralRequest request, ProposeDeferralHandler handler, HttpContext http, CancellationToken stop) =>
        (await handler.HandleAsync(http.Changing() with { Command = request.Id }, new DefectId(id), request, stop)).ToHttp(http);

    private static async Task<ChangeResult> Prepare(Guid id, PrepareDeferralRequest request, PrepareDeferralHandler handler, HttpContext http, CancellationToken stop) =>
        (await handler.HandleAsync(http.Changing(), new DefectId(id), request, stop)).ToHttp(http);

    private static async Task<ChangeResult> Authorise(Guid id, AuthoriseDeferralRequest request, AuthoriseDeferralHandler handler, HttpContext http, CancellationToken stop) =>
        (await handler.HandleAsync(http.Changing(), new DefectId(id), request, stop)).ToHttp(http);

    private static async Task<ChangeResult> Certify(Guid id, CertifyDeferralRequest request, CertifyDeferralHandler handler, HttpContext http, CancellationToken stop) =>
        (await handler.HandleAsync(http.Changing(), new DefectId(id), request, stop)).ToHttp(http);

    private static async Task<ChangeResult> Extend(Guid id, ExtendDeferralRequest request, ExtendDeferralHandler handler, HttpContext http, CancellationToken stop) =>
        (await handler.HandleAsync(http.Changing(), new DefectId(id), request, stop)).ToHttp(http);

    private static async Task<ChangeResult> End(Guid id, ReasonRequest request, EndDeferralHandler handler, HttpContext http, CancellationToken stop) =>
        (await handler.HandleAsync(http.Changing(), new DefectId(id), request, stop)).ToHttp(http);
}
