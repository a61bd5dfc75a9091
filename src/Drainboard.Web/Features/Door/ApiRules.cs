using System.Diagnostics;
using Drainboard.Domain;
using Drainboard.Domain.Accounts;
using Drainboard.Web.Features.Accounts;
using Drainboard.Web.Hosting;
using NodaTime;

namespace Drainboard.Web.Features.Door;

/// <summary>Which act an endpoint is. The generated permission test reads it.</summary>
internal sealed record ActOf(Act Act);

/// <summary>What every endpoint under /api declares: the act it is, and whether it needs the version that the caller saw.</summary>
internal static class ApiRules
{
    private static readonly TimeSpan JustNow = TimeSpan.FromSeconds(1);
    private static readonly object ActorKey = new();
    private static readonly object AskedKey = new();
    private static readonly object VersionKey = new();

    /// <summary>Lets in only those who may, before a body is read; the handler still checks the aircraft and its station.</summary>
    public static RouteHandlerBuilder Needs(this RouteHandlerBuilder builder, Act act) => builder
        .WithMetadata(new ActOf(act))
        .ProducesProblem(StatusCodes.Status401Unauthorized)
        .ProducesProblem(StatusCodes.Status403Forbidden)
        .AddEndpointFilter(async (context, next) =>
        {
            // A body may take long to come, and a right may be gone by then.
            var http = context.HttpContext;
            return HttpMethods.IsGet(http.Request.Method) || Stopwatch.GetElapsedTime((long)http.Items[AskedKey]!) < JustNow || await LetInAsync(http, act) is not { } no ? await next(context) : no;
        });

    public static void UseActGate(this WebApplication app) => app.Use(async (http, next) =>
    {
        if (http.GetEndpoint()?.Metadata.GetMetadata<ActOf>() is not { } needs)
        {
            await next();
        }
        else if (await LetInAsync(http, needs.Act) is { } no)
        {
            await no.ExecuteAsync(http);
        }
        else
        {
            await next();
        }
    });

    /// <returns>Null where whoever asks may, and is known from now on; else the answer.</returns>
    private static async Task<IResult?> LetInAsync(HttpContext http, Act act)
    {
        if (await http.RequestServices.GetRequiredService<ActorAccess>().FindAsync(http.User, http.RequestAborted) is not { } actor)
        {
            return AnswerHttp.Problem(StatusCodes.Status401Unauthorized, "Sign in", "Sign in, or send a valid key in X-Api-Key.", "not-signed-in");
        }

        if (Permissions.WhyNot(actor, act) is { } no)
        {
            http.RequestServices.GetRequiredService<SecurityLog>().NotAllowed(actor.Person.Value, no.Code, http);
            return AnswerHttp.Problem(StatusCodes.Status403Forbidden, "Not allowed", no.Words, no.Code);
        }

        (http.Items[ActorKey], http.Items[AskedKey]) = (actor, Stopwatch.GetTimestamp());
        return null;
    }

    /// <summary>A guest for one tail may ask this too: it keeps to the asker and to their tail by itself.</summary>
    public static RouteHandlerBuilder OpenToGuests(this RouteHandlerBuilder builder) => builder.WithMetadata(new OpenToGuestsAttribute());

    /// <summary>428 without If-Match: a change is made to what the caller has seen.</summary>
    public static RouteHandlerBuilder Changes(this RouteHandlerBuilder builder) => builder
        .ProducesProblem(StatusCodes.Status412PreconditionFailed)
        .ProducesProblem(StatusCodes.Status422UnprocessableEntity)
        .ProducesProblem(StatusCodes.Status428PreconditionRequired)
        .AddEndpointFilter(async (context, next) =>
        {
            if (SeenVersion(context.HttpContext.Request.Headers) is not { } version)
            {
                return AnswerHttp.Problem(StatusCodes.Status428PreconditionRequired, "Say what you saw", "Send If-Match with the ETag of the version that you read, for example If-Match: \"3\".", "no-if-match");
            }

            context.HttpContext.Items[VersionKey] = version;
            return await next(context);
        });

    /// <summary>A feed's own record by its outside key: If-Match is honoured where it is sent (412 when stale), and asked of nobody.</summary>
    public static RouteHandlerBuilder MayMatch(this RouteHandlerBuilder builder) => builder
        .ProducesProblem(StatusCodes.Status412PreconditionFailed)
        .ProducesProblem(StatusCodes.Status422UnprocessableEntity);

    public static Actor Actor(this HttpContext http) => (Actor)http.Items[ActorKey]!;

    /// <summary>Whoever asks, as the gate found them, or found now for a page.</summary>
    public static async Task<Actor?> FindActorAsync(this HttpContext http) =>
        (Actor?)(http.Items[ActorKey] ??= await http.RequestServices.GetRequiredService<ActorAccess>().FindAsync(http.User, http.RequestAborted));

    /// <summary>A create carries its own id; the same id with the same contents is answered again.</summary>
    public static Call Creating(this HttpContext http, Guid id) => new(http.Actor(), id);

    /// <summary>A record of a feed, by its outside key.</summary>
    public static Call Matching(this HttpContext http, Guid id) => new(http.Actor(), id, SeenVersion(http.Request.Headers));

    /// <summary>A change of something seen; Idempotency-Key is optional, because If-Match already makes a repeat harmless.</summary>
    public static Call Changing(this HttpContext http)
    {
        var sent = http.Request.Headers["Idempotency-Key"].ToString().Trim('"');
        var command = Guid.TryParse(sent, out var key) ? key : NewId.At(http.RequestServices.GetRequiredService<IClock>().GetCurrentInstant());
        return new Call(http.Actor(), command, (long)http.Items[VersionKey]!);
    }

    private static long? SeenVersion(IHeaderDictionary headers) =>
        headers.IfNoneMatch.ToString() == "*" ? Call.SawNone
        : long.TryParse(headers.IfMatch.ToString().Trim('"'), out var version) ? version
        : null;
}
