using Drainboard.Domain.Accounts;
using Drainboard.Domain.Defects;
using Drainboard.Web.Features.Defects;
using Drainboard.Web.Features.Door;
using Drainboard.Web.Features.Items;
using Microsoft.AspNetCore.Http.HttpResults;

namespace Drainboard.Web.Features.Rectification;

internal static class RectificationApi
{
    public static void MapRectification(this IEndpointRouteBuilder api)
    {
        var group = api.MapGroup("/defects/{id:guid}").WithTags("Rectification");
        group.MapPost("/rectification", Record).Needs(Act.RecordWork).Changes().WithSummary("Record work as done; the body's id is the work's and the idempotency key");
        group.MapPost("/rectification/checks", Check).Needs(Act.RecordChecks).Changes().WithSummary("Record an ops check or a leak check");
        group.MapPost("/rectification/return", Return).Needs(Act.ReturnWork).Changes().WithSummary("Send the work back");
        group.MapPost("/rectification/release", Release).Needs(Act.Release).Changes().WithSummary("The certifying technician releases; the defect is closed");
    }

    private static async Task<ChangeResult> Record(Guid id, RecordWorkRequest request, RecordWorkHandler handler, HttpContext http, CancellationToken stop) =>
        (await handler.HandleAsync(http.Changing() with { Command = request.Id }, new DefectId(id), request, stop)).ToHttp(http);

    private static async Task<ChangeResult> Check(Guid id, RecordChecksRequest request, RecordChecksHandler handler, HttpContext http, CancellationToken stop) =>
        (await handler.HandleAsync(http.Changing(), new DefectId(id), request, stop)).ToHttp(http);

    private static async Task<ChangeResult> Return(Guid id, ReasonRequest request, ReturnWorkHandler handler, HttpContext http, CancellationToken stop) =>
        (await handler.HandleAsync(http.Changing(), new DefectId(id), request, stop)).ToHttp(http);

    private static async Task<ChangeResult> Release(Guid id, ReleaseRequest request, ReleaseHandler handler, HttpContext http, CancellationToken stop) =>
        (await handler.HandleAsync(http.Changing(), new DefectId(id), request, stop)).ToHttp(http);
}
