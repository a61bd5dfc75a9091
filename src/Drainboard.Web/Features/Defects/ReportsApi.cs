using System.Net.Http.Headers;
using System.Security.Cryptography;
using Drainboard.Data;
using Drainboard.Domain.Accounts;
using Drainboard.Domain.Defects;
using Drainboard.Domain.Fleet;
using Drainboard.Web.Features.Door;
using Drainboard.Web.Hosting;
using Microsoft.AspNetCore.Http.HttpResults;
using Microsoft.EntityFrameworkCore;
using NodaTime;

namespace Drainboard.Web.Features.Defects;

internal static class ReportsApi
{
    /// <summary>What the device's clock says as it sends, with its offset: beside our own time it tells how far that clock is off.</summary>
    public const string DeviceTime = "X-Device-Time";

    /// <summary>Whose report it is, where a device sends for several people.</summary>
    public const string Reporter = "X-Reporter";

    public static void MapReports(this IEndpointRouteBuilder api)
    {
        var reports = api.MapGroup("/reports").WithTags("Reports");
        reports.MapPost("", Send).Needs(Act.Report).ProducesProblem(400).ProducesProblem(409).ProducesProblem(422).OpenToGuests().WithSummary("Send a report; the answer names the defect it opened or was added to. Its id is its idempotency key, for ever: the same id and contents get the same answer, other contents 422, and while it is being taken in 409");
        reports.MapGet("/mine", Mine).Needs(Act.Report).OpenToGuests().WithSummary("The asker's own reports of the last 60 days and what became of them, newest first");
        reports.MapPut("/{id:guid}/photos/{sha256}", Photo).Needs(Act.Report).Produces<PhotoArrival>(202).ProducesProblem(422).OpenToGuests().WithSummary("Add a photo, addressed by the SHA-256 of its bytes; sending it again changes nothing. With Content-Range, a piece of it: 202 says how much is here until the last one");
        reports.MapGet("/{id:guid}/photos/{sha256}", Arrived).Needs(Act.Report).ProducesProblem(404).OpenToGuests().WithSummary("How much of a photo is here, to go on where the upload broke off");
        api.MapGet("/photos/{sha256}", GetPhoto).Needs(Act.Look).WithTags("Reports").Produces(200, contentType: "image/jpeg").ProducesProblem(404).OpenToGuests().WithSummary("A photo by the SHA-256 of its bytes");
    }

    private static async Task<ChangeResult> Send(SendReportRequest request, SendReportHandler handler, ReportsUnderway underway, HttpContext http, CancellationToken stop)
    {
        if (http.Request.Headers["Idempotency-Key"].ToString().Trim('"') is { Length: > 0 } key && (!Guid.TryParse(key, out var said) || said != request.Id))
        {
            return AnswerHttp.Problem(400, "Two keys", "The report's own id is its key. Send no Idempotency-Key, or the same id.", "two-keys");
        }

        // A device that sends for several people says for whom: never under the name of whoever has signed in meanwhile.
        if (http.Request.Headers[Reporter].ToString() is { Length: > 0 } whose && !whose.Equals(http.Actor().Person.Value.ToString(), StringComparison.OrdinalIgnoreCase))
        {
            return AnswerHttp.Problem(401, "Another person", "Somebody else has signed in here. This report is kept until its own person signs in.", "another-person");
        }

        using var turn = underway.Begin(request.Id);
        if (turn is null)
        {
            http.Response.Headers.RetryAfter = "1";
            return AnswerHttp.Problem(409, "Being taken in", "This report is being taken in at this moment. Ask again in a second.", "in-progress");
        }

        Instant? clock = InstantAnyOffset.TryParse(http.Request.Headers[DeviceTime].ToString(), out var at) ? at : null;
        var answer = await handler.HandleAsync(http.Creating(request.Id), request, clock, stop);
        return answer.ToHttp(http, answer is Answer.Done done ? $"/api/v1/defects/{done.Id}" : null);
    }

    private static async Task<Ok<IReadOnlyList<MyReport>>> Mine(MyReportsQuery query, HttpContext http, CancellationToken stop) => TypedResults.Ok(await query.ReadAsync(http.Actor().Person, stop));

    private static async Task<Results<Ok<PhotoArrival>, ProblemHttpResult>> Arrived(Guid id, string sha256, PhotoParts parts, HttpContext http, CancellationToken stop)
    {
        var (arrival, no) = await parts.ReadAsync(http.Actor(), new ReportId(id), sha256.ToLowerInvariant(), stop);
        return arrival is null ? (ProblemHttpResult)no!.ToHttp(http).Result : TypedResults.Ok(arrival);
    }

    private static async Task<Results<Ok<DoneBody>, Accepted<PhotoArrival>, ProblemHttpResult>> Photo(Guid id, string sha256, AttachPhotoHandler handler, PhotoParts parts, HttpContext http, CancellationToken stop)
    {
        var (report, named) = (new ReportId(id), sha256.ToLowerInvariant());
        var bytes = await ReadAsync(http, stop);
        var inPieces = http.Request.Headers.ContentRange.ToString() is { Length: > 0 } header;
        if (inPieces)
        {
            if (!ContentRangeHeaderValue.TryParse(http.Request.Headers.ContentRange, out var range) || range is not { Unit: "bytes", From: { } from, To: { } to, Length: { } total } || to - from + 1 != bytes.Length || total > PhotoRules.LargestBytes || to >= total)
            {
                return AnswerHttp.Problem(422, "Refused", $"A piece says where it belongs: \"Content-Range: bytes 0-65535/250000\", with as many bytes as it says, of a photo of up to {PhotoRules.LargestBytes} bytes. What arrived before is kept.", "photo-range");
            }

            var (whole, arrival, no) = await parts.AddAsync(http.Actor(), report, named, (int)from, (int)total, bytes, stop);
            if (whole is null)
            {
                return no is null ? TypedResults.Accepted((string?)null, arrival!) : (ProblemHttpResult)no.ToHttp(http).Result;
            }

            bytes = whole;
        }
        else if (Convert.ToHexStringLower(SHA256.HashData(bytes)) != named)
        {
            return AnswerHttp.Problem(422, "Refused", "The bytes that arrived do not give this SHA-256: the upload was cut short or altered. Send it again.", "photo-hash");
        }

        var answer = await handler.HandleAsync(http.Creating(PhotoWish.IdOf(report, named)), report, bytes, stop);
        if (inPieces && answer is Answer.Done or Answer.Refused)
        {
            await parts.ForgetAsync(report, named, stop);
        }

        return answer.ToHttp(http).Result is Ok<DoneBody> done ? done : (ProblemHttpResult)answer.ToHttp(http).Result;
    }

    private static async Task<byte[]> ReadAsync(HttpContext http, CancellationToken stop)
    {
        using var body = new MemoryStream();
        var buffer = new byte[81920];
        for (int read; body.Length <= PhotoRules.LargestBytes && (read = await http.Request.Body.ReadAsync(buffer, stop)) > 0;)
        {
            body.Write(buffer, 0, read);
        }

        return body.ToArray();
    }

    private static async Task<Results<FileContentHttpResult, ProblemHttpResult>> GetPhoto(string sha256, IDbContextFactory<DrainboardDb> factory, HttpContext http, CancellationToken stop)
    {
        await using var db = await factory.CreateDbContextAsync(stop);
        var photo = await db.Photos.AsNoTracking().SingleOrDefaultAsync(photo => photo.Sha256 == sha256, stop);
        if (photo is null || http.Actor().OnlyTail is { } only && !await IsOfAsync(db, only, sha256, stop))
        {
            return AnswerHttp.Problem(404, "Not found", "There is no such photo.", "not-found");
        }

        http.Response.Headers.CacheControl = "private, max-age=31536000, immutable";
        return TypedResults.File(photo.Bytes, photo.ContentType);
    }

    // For a guest only: the lists of photos are columns of their own, read one tail at a time.
    private static async Task<bool> IsOfAsync(DrainboardDb db, Registration only, string sha256, CancellationToken stop) =>
        (await db.Reports.AsNoTracking().Where(report => db.Tails.Any(tail => tail.Id == report.Tail && tail.Registration == only)).ToArrayAsync(stop)).Any(report => report.Photos.Contains(sha256));
}
