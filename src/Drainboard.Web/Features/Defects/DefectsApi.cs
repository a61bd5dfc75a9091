using Drainboard.Data;
using Drainboard.Domain;
using Drainboard.Domain.Accounts;
using Drainboard.Domain.Defects;
using Drainboard.Domain.Fleet;
using Drainboard.Web.Features.Door;
using Microsoft.AspNetCore.Http.HttpResults;
using Microsoft.EntityFrameworkCore;

namespace Drainboard.Web.Features.Defects;

internal static class DefectsApi
{
    public static void MapDefects(this IEndpointRouteBuilder api)
    {
        var defects = api.MapGroup("/defects").WithTags("Defects");
        defects.MapGet("", List).Needs(Act.Look).OpenToGuests().WithSummary("Defects, newest first, twenty a page");
        defects.MapGet("/{id:guid}", Get).Needs(Act.Look).WithSummary("One defect with its reports, deferral, work and story; its ETag goes into If-Match");
        defects.MapPost("/{id:guid}/sorting", Sort).Needs(Act.Sort).Changes().WithSummary("Sort a report into an open defect");
        defects.MapPost("/{id:guid}/merger", Merge).Needs(Act.Merge).Changes().WithSummary("Same defect as another: join it");
        defects.MapPost("/{id:guid}/leak-answer", AnswerLeak).Needs(Act.AnswerLeak).Changes().WithSummary("Answer whether it leaks");
        defects.MapPost("/{id:guid}/error", CloseInError).Needs(Act.CloseInError).Changes().WithSummary("Close as entered in error");
        defects.MapPost("/{id:guid}/corrections", Correct).Needs(Act.Correct).Changes().WithSummary("Add a correction; nothing that stands is altered");
        defects.MapGet("/lifecycle", () => TypedResults.Ok(Lifecycle.Table)).Needs(Act.Look).OpenToGuests().WithSummary("The table of a defect's life");
    }

    private static async Task<Results<Ok<DefectPageView>, ProblemHttpResult>> List(DefectsQuery query, IDbContextFactory<DrainboardDb> factory, HttpContext http, CancellationToken stop, string? tail = null, string? position = null, Choice<DefectState>? state = null, string? after = null)
    {
        var only = http.Actor().OnlyTail;
        tail ??= only?.Value;
        TailId? tailId = null;
        if (tail is not null)
        {
            await using var db = await factory.CreateDbContextAsync(stop);
            tailId = Registration.TryParse(tail, out var mark) && (only is null || only == mark) ? (await db.Tails.AsNoTracking().SingleOrDefaultAsync(row => row.Registration == mark, stop))?.Id : null;
            if (tailId is null)
            {
                return AnswerHttp.Problem(404, "Not found", $"There is no tail \"{tail}\".", "not-found");
            }
        }

        return TypedResults.Ok(await query.ReadAsync(tailId, Position.TryParse(position, out var at) ? at : null, state?.Value, after, stop));
    }

    private static async Task<Results<Ok<DefectView>, ProblemHttpResult>> Get(Guid id, DefectQuery query, HttpContext http, CancellationToken stop)
    {
        if (await query.ReadAsync(new DefectId(id), http.Actor(), stop) is not { } view)
        {
            return AnswerHttp.Problem(404, "Not found", "There is no such defect.", "not-found");
        }

        http.Response.Headers.ETag = AnswerHttp.Tag(view.Version);
        return TypedResults.Ok(view);
    }

    private static async Task<ChangeResult> Sort(Guid id, SortRequest request, SortHandler handler, HttpContext http, CancellationToken stop) =>
        (await handler.HandleAsync(http.Changing(), new DefectId(id), request, stop)).ToHttp(http);

    private static async Task<ChangeResult> Merge(Guid id, MergeRequest request, MergeHandler handler, HttpContext http, CancellationToken stop) =>
        (await handler.HandleAsync(http.Changing(), new DefectId(id), request, stop)).ToHttp(http);

    private static async Task<ChangeResult> AnswerLeak(Guid id, AnswerLeakRequest request, AnswerLeakHandler handler, HttpContext http, CancellationToken stop) =>
        (await handler.HandleAsync(http.Changing(), new DefectId(id), request, stop)).ToHttp(http);

    private static async Task<ChangeResult> CloseInError(Guid id, CloseInErrorRequest request, CloseInErrorHandler handler, HttpContext http, CancellationToken stop) =>
        (await handler.HandleAsync(http.Changing(), new DefectId(id), request, stop)).ToHttp(http);

    private static async Task<ChangeResult> Correct(Guid id, CorrectRequest request, CorrectHandler handler, HttpContext http, CancellationToken stop) =>
        (await handler.HandleAsync(http.Changing(), new DefectId(id), request, stop)).ToHttp(http);
}
