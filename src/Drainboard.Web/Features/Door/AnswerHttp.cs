using Microsoft.AspNetCore.Http.HttpResults;
using Microsoft.AspNetCore.Mvc;

namespace Drainboard.Web.Features.Door;

/// <summary>What a program is told when something was done.</summary>
public sealed record DoneBody(Guid Id, long Version, string Words, string? Reference = null);

/// <summary>Answers as HTTP: one place that decides which status says what.</summary>
internal static class AnswerHttp
{
    public static ChangeResult ToHttp(this Answer answer, HttpContext http, string? createdAt = null)
    {
        switch (answer)
        {
            case Answer.Done done:
                http.Response.Headers.ETag = Tag(done.Version);
                var body = new DoneBody(done.Id, done.Version, done.Words, done.Reference);
                return createdAt is null ? TypedResults.Ok(body) : TypedResults.Created(createdAt, body);
            case Answer.Refused refused:
                return Problem(StatusCodes.Status422UnprocessableEntity, "Refused", refused.Refusal.Words, refused.Refusal.Code);
            case Answer.NotAllowed not:
                return Problem(StatusCodes.Status403Forbidden, "Not allowed", not.Refusal.Words, not.Refusal.Code);
            case Answer.NotFound not:
                return Problem(StatusCodes.Status404NotFound, "Not found", not.Words, "not-found");
            case Answer.Stale:
                return Problem(StatusCodes.Status412PreconditionFailed, "Changed meanwhile", Answer.Stale.Words, "stale");
            case Answer.OtherWish:
                return Problem(StatusCodes.Status422UnprocessableEntity, "Id used before", Answer.OtherWish.Words, "id-used-before");
            default:
                throw new InvalidOperationException($"Unknown answer {answer.GetType().Name}.");
        }
    }

    public static ProblemHttpResult Problem(int status, string title, string detail, string refusal) =>
        TypedResults.Problem(new ProblemDetails { Status = status, Title = title, Detail = detail, Extensions = { ["refusal"] = refusal } });

    public static string Tag(long version) => $"\"{version}\"";
}
