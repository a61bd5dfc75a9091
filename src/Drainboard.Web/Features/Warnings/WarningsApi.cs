using Drainboard.Domain;
using Drainboard.Domain.Accounts;
using Drainboard.Web.Features.Door;
using Microsoft.AspNetCore.Http.HttpResults;
using NodaTime;

namespace Drainboard.Web.Features.Warnings;

internal static class WarningsApi
{
    public static void MapWarnings(this IEndpointRouteBuilder api)
    {
        var group = api.MapGroup("").WithTags("Warnings");
        group.MapGet("/warnings", Warnings).Needs(Act.Look).WithSummary("Warnings to the asker, newest first");
        group.MapPost("/warnings/seen", Seen).Needs(Act.Follow).WithSummary("The asker has seen the warnings made up to an instant");
        group.MapGet("/follows", Follows).Needs(Act.Look).WithSummary("What the asker follows, and their calendar addresses");
        group.MapPost("/follows", Follow).Needs(Act.Follow).ProducesProblem(422).WithSummary("Follow a tail, a station or the fleet: be warned at lead times before a clock lapses");
        group.MapDelete("/follows/{id:guid}", Unfollow).Needs(Act.Follow).ProducesProblem(404).WithSummary("Follow no more");
        group.MapPost("/calendar-feeds", MakeFeed).Needs(Act.Follow).ProducesProblem(422).WithSummary("Make a calendar address (RFC 5545) of due times; it is in this answer and never again");
        group.MapPost("/calendar-feeds/{id:guid}/revocation", RevokeFeed).Needs(Act.Follow).ProducesProblem(404).WithSummary("Revoke a calendar address for good");
    }

    /// <summary>Calendars cannot sign in: the address itself is the key.</summary>
    public static void MapCalendar(this IEndpointRouteBuilder app) =>
        app.MapGet("/calendar/{secret}.ics", Calendar).AllowAnonymous().ExcludeFromDescription();

    private static async Task<Results<ContentHttpResult, NotFound>> Calendar(string secret, CalendarQuery query, HttpContext http, CancellationToken stop)
    {
        http.Response.Headers.CacheControl = "private, max-age=60";
        return await query.ReadAsync(secret, stop) is { } text ? TypedResults.Text(text, "text/calendar; charset=utf-8") : TypedResults.NotFound();
    }

    private static async Task<Ok<IReadOnlyList<WarningView>>> Warnings(WarningsQuery query, HttpContext http, CancellationToken stop) => TypedResults.Ok(await query.ReadAsync(http.Actor().Person, stop));

    private static async Task<ChangeResult> Seen(SeeWarningsRequest request, SeeWarningsHandler handler, HttpContext http, IClock clock, CancellationToken stop) =>
        (await handler.HandleAsync(http.Creating(NewId.At(clock.GetCurrentInstant())), request, stop)).ToHttp(http);

    private static async Task<Ok<FollowsView>> Follows(FollowsQuery query, HttpContext http, CancellationToken stop) => TypedResults.Ok(await query.ReadAsync(http.Actor().Person, stop));

    private static async Task<ChangeResult> Follow(FollowRequest request, FollowHandler handler, HttpContext http, CancellationToken stop) =>
        (await handler.HandleAsync(http.Creating(request.Id), request, stop)).ToHttp(http);

    private static async Task<ChangeResult> Unfollow(Guid id, UnfollowHandler handler, HttpContext http, IClock clock, CancellationToken stop) =>
        (await handler.HandleAsync(http.Creating(NewId.At(clock.GetCurrentInstant())), id, stop)).ToHttp(http);

    private static async Task<Results<Ok<NewFeedBody>, ProblemHttpResult>> MakeFeed(MakeFeedRequest request, MakeFeedHandler handler, HttpContext http, CancellationToken stop)
    {
        var (answer, path) = await handler.HandleAsync(http.Creating(request.Id), request, stop);
        return answer is Answer.Done done ? TypedResults.Ok(new NewFeedBody(done.Id, path)) : (ProblemHttpResult)answer.ToHttp(http).Result;
    }

    private static async Task<ChangeResult> RevokeFeed(Guid id, RevokeFeedHandler handler, HttpContext http, IClock clock, CancellationToken stop) =>
        (await handler.HandleAsync(http.Creating(NewId.At(clock.GetCurrentInstant())), id, stop)).ToHttp(http);
}
