using Drainboard.Data;
using Drainboard.Domain;
using Drainboard.Domain.Accounts;
using Drainboard.Domain.Defects;
using Drainboard.Domain.Fleet;
using Drainboard.Web.Features.Door;
using Microsoft.AspNetCore.Http.HttpResults;
using Microsoft.EntityFrameworkCore;
using NodaTime;

namespace Drainboard.Web.Features.Defects;

internal static class DefectsApi
{
    public static void MapDefects(this IEndpointRouteBuilder api)
    {
        var reports = api.MapGroup("/reports").WithTags("Reports");
        reports.MapPost("", Send).Needs(Act.Report).ProducesProblem(422).WithSummary("Send a report; the answer names the defect it opened");
        reports.MapPut("/{id:guid}/photos/{sha256}", Photo).Needs(Act.Report).ProducesProblem(422).WithSummary("Add a photo, addressed by the SHA-256 of its bytes; sending it again changes nothing");
        api.MapGet("/photos/{sha256}", GetPhoto).Needs(Act.Look).WithTags("Reports").Produces(200, contentType: "image/jpeg").ProducesProblem(404).WithSummary("A photo by the SHA-256 of its bytes");

        var defects = api.MapGroup("/defects").WithTags("Defects");
        defects.MapGet("", List).Needs(Act.Look).WithSummary("Defects, newest first, twenty a page");
        defects.MapGet("/{id:guid}", Get).Needs(Act.Look).WithSummary("One defect with its reports, deferral, work and story; its ETag goes into If-Match");
        defects.MapPost("/{id:guid}/sorting", Sort).Needs(Act.Sort).Changes().WithSummary("Sort a report into an open defect");
        defects.MapPost("/{id:guid}/merger", Merge).Needs(Act.Merge).Changes().WithSummary("Same defect as another: join it");
        defects.MapPost("/{id:guid}/leak-answer", AnswerLeak).Needs(Act.AnswerLeak).Changes().WithSummary("Answer whether it leaks");
        defects.MapPost("/{id:guid}/error", CloseInError).Needs(Act.CloseInError).Changes().WithSummary("Close as entered in error");
        defects.MapPost("/{id:guid}/corrections", Correct).Needs(Act.Correct).Changes().WithSummary("Add a correction; nothing that stands is altered");
        defects.MapGet("/lifecycle", () => TypedResults.Ok(Lifecycle.Table)).Needs(Act.Look).WithSummary("The table of a defect's life");
    }

    private static async Task<ChangeResult> Send(SendReportRequest request, SendReportHandler handler, HttpContext http, CancellationToken stop)
    {
        var answer = await handler.HandleAsync(http.Creating(request.Id), request, stop);
        return answer.ToHttp(http, answer is Answer.Done done ? $"/api/v1/defects/{done.Id}" : null);
    }

    private static async Task<ChangeResult> Photo(Guid id, string sha256, AttachPhotoHandler handler, HttpContext http, IClock clock, CancellationToken stop)
    {
        using var body = new MemoryStream();
        var buffer = new byte[81920];
        for (int read; body.Length <= PhotoRules.LargestBytes && (read = await http.Request.Body.ReadAsync(buffer, stop)) > 0;)
        {
            body.Write(buffer, 0, read);
        }

        var bytes = body.ToArray();
        if (!Convert.ToHexStringLower(System.Security.Cryptography.SHA256.HashData(bytes)).Equals(sha256, StringComparison.OrdinalIgnoreCase))
        {
            return AnswerHttp.Problem(422, "Refused", "The bytes that arrived do not give this SHA-256: the upload was cut short or altered. Send it again.", "photo-hash");
        }

        return (await handler.HandleAsync(http.Creating(NewId.At(clock.GetCurrentInstant())), new ReportId(id), bytes, stop)).ToHttp(http);
    }

    private static async Task<Results<FileContentHttpResult, ProblemHttpResult>> GetPhoto(string sha256, IDbContextFactory<DrainboardDb> factory, HttpContext http, CancellationToken stop)
    {
        await using var db = await factory.CreateDbContextAsync(stop);
        var photo = await db.Photos.AsNoTracking().SingleOrDefaultAsync(photo => photo.Sha256 == sha256, stop);
        if (photo is null)
        {
            return AnswerHttp.Problem(404, "Not found", "There is no such photo.", "not-found");
        }

        http.Response.Headers.CacheControl = "private, max-age=31536000, immutable";
        return TypedResults.File(photo.Bytes, photo.ContentType);
    }

    private static async Task<Results<Ok<DefectPageView>, ProblemHttpResult>> List(DefectsQuery query, IDbContextFactory<DrainboardDb> factory, CancellationToken stop, string? tail = null, string? position = null, Choice<DefectState>? state = null, string? after = null)
    {
        TailId? tailId = null;
        if (tail is not null)
        {
            await using var db = await factory.CreateDbContextAsync(stop);
            tailId = Registration.TryParse(tail, out var mark) ? (await db.Tails.AsNoTracking().SingleOrDefaultAsync(row => row.Registration == mark, stop))?.Id : null;
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
