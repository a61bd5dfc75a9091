using Drainboard.Data.Accounts;
using Drainboard.Domain;
using Drainboard.Web.Features.Door;
using Drainboard.Web.Hosting;
using Microsoft.AspNetCore.Identity;
using NodaTime;

namespace Drainboard.Web.Features.Accounts;

/// <summary>What the script on "Me" and on the sign-in page asks; the browser's own credential goes in and comes out as its JSON (Web Authentication, Level 3).</summary>
internal static class PasskeysApi
{
    public sealed record CreationWish(string Password);

    public sealed record NewPasskey(string Credential, string? Name = null);

    public sealed record SignInWish(string Credential);

    public static void MapPasskeys(this IEndpointRouteBuilder app)
    {
        var group = app.MapGroup("/passkeys").ExcludeFromDescription();
        group.MapPost("/creation-options", CreationOptions);
        group.MapPost("", Add);
        group.MapPost("/request-options", RequestOptions).AllowAnonymous();
        group.MapPost("/sign-in", SignIn).AllowAnonymous();
    }

    private static async Task<IResult> CreationOptions(CreationWish wish, CurrentPerson current, SigningCodes codes, SignInManager<Person> manager, UserManager<Person> people, HttpContext http)
    {
        if (await current.FindAsync(http) is not { } person)
        {
            return Results.Unauthorized();
        }

        return (person.WhyNoSecretYet ?? await WhyNotHereAsync(http, person, people) ?? await codes.WhyNotPasswordAsync(person.AsActor(), wish.Password, "No passkey was added.", http.RequestAborted)) is { } no
            ? AnswerHttp.Problem(StatusCodes.Status422UnprocessableEntity, "Refused", no.Words, no.Code)
            : Results.Content(await manager.MakePasskeyCreationOptionsAsync(new() { Id = person.Id.ToString(), Name = person.UserName!, DisplayName = person.Name }), "application/json");
    }

    private static async Task<IResult> Add(NewPasskey wish, CurrentPerson current, SignInManager<Person> manager, UserManager<Person> people, SecurityLog log, HttpContext http)
    {
        if (await current.FindAsync(http) is not { } person)
        {
            return Results.Unauthorized();
        }

        var made = await TryAsync(() => manager.PerformPasskeyAttestationAsync(wish.Credential));
        // What was begun under another account, in this browser, ends nowhere.
        if (made is not { Succeeded: true } || made.UserEntity.Id != person.Id.ToString() || person.WhyNoSecretYet is not null || await WhyNotHereAsync(http, person, people) is not null)
        {
            return AnswerHttp.Problem(StatusCodes.Status422UnprocessableEntity, "Refused", "This passkey could not be checked. Try again from the beginning.", "passkey-not-made");
        }

        made.Passkey.Name = string.IsNullOrWhiteSpace(wish.Name) ? "Passkey" : wish.Name.Trim()[..Math.Min(60, wish.Name.Trim().Length)];
        var saved = await people.AddOrUpdatePasskeyAsync(person, made.Passkey);
        if (!saved.Succeeded)
        {
            return AnswerHttp.Problem(StatusCodes.Status422UnprocessableEntity, "Refused", "This passkey could not be stored. Try again.", "passkey-not-stored");
        }

        log.SecretChanged(person.Id, "passkey added");
        return Results.NoContent();
    }

    /// <summary>Who has a passkey, and whose role signs in with one, comes with that one: a password alone does not add another beside it.</summary>
    public static async Task<Refusal?> WhyNotHereAsync(HttpContext http, Person person, UserManager<Person> people) =>
        await http.FindActorAsync() is { NeedsPasskey: true } && (await people.GetPasskeysAsync(person)).Count > 0
            ? new Refusal("passkey-needed", "Sign out, and sign in with the passkey that you have; then you can add others and take them away. Is it lost? An administrator takes it away.")
            : null;

    // What is no credential, or was not begun here within five minutes, is an answer and no fault.
    private static async Task<T?> TryAsync<T>(Func<Task<T>> act)
        where T : class
    {
        try
        {
            return await act();
        }
        catch (Exception failure) when (failure is InvalidOperationException or ArgumentException or System.Text.Json.JsonException)
        {
            return null;
        }
    }

    private static async Task<IResult> RequestOptions(SignInManager<Person> manager) =>
        Results.Content(await manager.MakePasskeyRequestOptionsAsync(null), "application/json");

    private static async Task<IResult> SignIn(SignInWish wish, SignInManager<Person> manager, UserManager<Person> people, SignIns signIns, SecurityLog log, HttpContext http)
    {
        var asserted = await TryAsync(() => manager.PerformPasskeyAssertionAsync(wish.Credential));
        if (asserted is not { Succeeded: true } || asserted.User.IsDisabled)
        {
            log.SignInRefused(asserted?.User?.Id, "passkey", http);
            return AnswerHttp.Problem(StatusCodes.Status422UnprocessableEntity, "Refused", "This passkey opens no account here. Sign in with user name and password.", "passkey-unknown");
        }

        // Its count of uses has moved: a copy of it would be noticed.
        await people.AddOrUpdatePasskeyAsync(asserted.User, asserted.Passkey);
        await signIns.BeginAsync(manager, asserted.User, SignInMeans.Passkey, http);
        return Results.NoContent();
    }
}
