using Drainboard.Domain.Accounts;
using Drainboard.Web.Features.Door;
using Microsoft.AspNetCore.Http.HttpResults;

namespace Drainboard.Web.Features.Accounts;

internal static class AccountsApi
{
    public static void MapAccounts(this IEndpointRouteBuilder api)
    {
        var group = api.MapGroup("").WithTags("Accounts");
        group.MapGet("/me", Me).Needs(Act.Look).OpenToGuests().WithSummary("Who is asking, and what they may do");
        group.MapPut("/me/password", SetPassword).Needs(Act.SetPassword).ProducesProblem(422).OpenToGuests().WithSummary("Set the own password; needs the one until now, and signs every browser out");
        group.MapPut("/me/signing-code", SetCode).Needs(Act.SetSigningCode).ProducesProblem(422).OpenToGuests().WithSummary("Set the own signing code, the second secret that every signature asks for; needs the account's password");
        group.MapGet("/people", People).Needs(Act.ManagePeople).WithSummary("Everybody with an account");
        group.MapPut("/people/{userName}", SavePerson).Needs(Act.ManagePeople).Changes().WithSummary("Make an account (If-None-Match: *) or change one (If-Match with its version); the user name is the key. A password that is given is in this answer and never again");
        group.MapGet("/api-keys", Keys).Needs(Act.ManageKeys).WithSummary("API keys, without their secrets");
        group.MapPost("/api-keys", MakeKey).Needs(Act.ManageKeys).ProducesProblem(422).WithSummary("Make a key; its secret is in this answer and never again");
        group.MapPost("/api-keys/{id:guid}/revocation", RevokeKey).Needs(Act.ManageKeys).ProducesProblem(422).WithSummary("Revoke a key for good");
    }

    private static Ok<MeView> Me(HttpContext http) => TypedResults.Ok(MeView.Of(http.Actor()));

    private static async Task<ChangeResult> SetPassword(SetPasswordRequest request, SetPasswordHandler handler, HttpContext http, CancellationToken stop) =>
        (await handler.HandleAsync(http.Creating(request.Id), request, stop)).ToHttp(http);

    private static async Task<ChangeResult> SetCode(SetSigningCodeRequest request, SetSigningCodeHandler handler, HttpContext http, CancellationToken stop) =>
        (await handler.HandleAsync(http.Creating(request.Id), request, stop)).ToHttp(http);

    private static async Task<Ok<IReadOnlyList<PersonView>>> People(PeopleQuery query, CancellationToken stop) =>
        TypedResults.Ok(await query.ReadAsync(stop));

    private static async Task<Results<Ok<SavedPersonBody>, ProblemHttpResult>> SavePerson(string userName, SavePersonRequest request, SavePersonHandler handler, HttpContext http, CancellationToken stop)
    {
        var (answer, password) = await handler.HandleAsync(http.Changing() with { Command = request.Id }, userName, request, stop);
        var result = answer.ToHttp(http).Result;
        return answer is Answer.Done done
            ? TypedResults.Ok(new SavedPersonBody(done.Id, done.Version, done.Words, password))
            : (ProblemHttpResult)result;
    }

    private static async Task<Ok<IReadOnlyList<KeyView>>> Keys(KeysQuery query, CancellationToken stop) =>
        TypedResults.Ok(await query.ReadAsync(stop));

    private static async Task<Results<Ok<NewKeyBody>, ProblemHttpResult>> MakeKey(MakeKeyRequest request, MakeKeyHandler handler, HttpContext http, CancellationToken stop)
    {
        var (answer, secret) = await handler.HandleAsync(http.Creating(request.Id), request, stop);
        return answer is Answer.Done done
            ? TypedResults.Ok(new NewKeyBody(done.Id, secret))
            : (ProblemHttpResult)answer.ToHttp(http).Result;
    }

    private static async Task<ChangeResult> RevokeKey(Guid id, RevokeKeyHandler handler, HttpContext http, CancellationToken stop) =>
        (await handler.HandleAsync(http.Creating(Domain.NewId.At(http.RequestServices.GetRequiredService<NodaTime.IClock>().GetCurrentInstant())), id, stop)).ToHttp(http);
}
