using Drainboard.Domain.Accounts;
using Drainboard.Domain.Defects;
using Drainboard.Domain.Deferrals;
using Drainboard.Web.Features.Defects;
using Drainboard.Web.Features.Door;
using Drainboard.Web.Features.Items;
using Microsoft.AspNetCore.Http.HttpResults;
using ChangeResult = Microsoft.AspNetCore.Http.HttpResults.Results<Microsoft.AspNetCore.Http.HttpResults.Ok<Drainboard.Web.Features.Door.DoneBody>, Microsoft.AspNetCore.Http.HttpResults.Created<Drainboard.Web.Features.Door.DoneBody>, Microsoft.AspNetCore.Http.HttpResults.ProblemHttpResult>;

namespace Drainboard.Web.Features.Deferrals;

internal static class DeferralsApi
{
    public static void MapDeferrals(this IEndpointRouteBuilder api)
    {
        var group = api.MapGroup("").WithTags("Deferrals");
        group.MapGet("/clocks", Clocks).Needs(Act.Look).WithSummary("Every running deferral, the first to lapse on top");
        group.MapGet("/bases", Bases).Needs(Act.Look).WithSummary("The operator's items under which a defect may be carried");
        group.MapGet("/policies", () => TypedResults.Ok(DeferralPolicies.Presets)).Needs(Act.Look).WithSummary("Deferral policies, each field with its source");
        group.MapPost("/defects/{id:guid}/deferral", Propose).Needs(Act.ProposeDeferral).Changes().WithSummary("Propose to carry the defect; the body's id is the deferral's and the idempotency key");
        group.MapPost("/defects/{id:guid}/deferral/preparation", Prepare).Needs(Act.PrepareDeferral).Changes().WithSummary("Tick conditions and placard");
        group.MapPost("/defects/{id:guid}/deferral/authorisation", Authorise).Needs(Act.AuthoriseDeferral).Changes().WithSummary("Maintenance control authorises");
        group.MapPost("/defects/{id:guid}/deferral/certification", Certify).Needs(Act.CertifyDeferral).Changes().WithSummary("The certifying technician signs");
        group.MapPost("/defects/{id:guid}/deferral/extension", Extend).Needs(Act.ExtendDeferral).Changes().WithSummary("Extend a running clock, where the policy allows");
        group.MapPost("/defects/{id:guid}/deferral/end", End).Needs(Act.EndDeferral).Changes().WithSummary("End it without work, or withdraw a proposal");
    }

    private static async Task<Ok<ClocksView>> Clocks(ClocksQuery query, CancellationToken stop) => TypedResults.Ok(await query.ReadAsync(stop));

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
