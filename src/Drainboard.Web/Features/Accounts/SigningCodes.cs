using Drainboard.Data;
using Drainboard.Data.Accounts;
using Drainboard.Domain;
using Drainboard.Domain.Accounts;
using Microsoft.EntityFrameworkCore;

namespace Drainboard.Web.Features.Accounts;

/// <summary>
/// The second secret that a person signs with. It is asked for at every signature, kept as a slow hash only, and locked for a while after
/// wrong ones in a row. It never enters the record, the log of wishes or a device.
/// </summary>
public sealed class SigningCodes(IDbContextFactory<DrainboardDb> factory, Secrets secrets)
{
    public const int Shortest = 6;
    public const int Longest = 64;

    /// <summary>Why a code may not be chosen; null when it may.</summary>
    public static Refusal? WhyNotChosen(string code) =>
        code.Length is < Shortest or > Longest
            ? new Refusal("signing-code-length", $"A signing code has {Shortest} to {Longest} characters.")
        : IsGuessed(code)
            ? new Refusal("signing-code-simple", "This code is guessed at once. Choose one that is not a run of digits or one character again and again.")
        : null;

    /// <summary>A run of digits, or hardly more than one character.</summary>
    public static bool IsGuessed(string code) =>
        code.Distinct().Count() < 3 || "0123456789012345".Contains(code, StringComparison.Ordinal) || "9876543210987654".Contains(code, StringComparison.Ordinal);

    /// <summary>Why this person may not sign with it now.</summary>
    public async Task<Refusal?> WhyNotAsync(Actor actor, string? code, CancellationToken stop)
    {
        var person = await PersonAsync(actor, stop);
        return person.SigningCodeHash is not { } hash ? new Refusal("no-signing-code", "You have no signing code yet. Set one on the page with your name (Me), then sign.")
            : string.IsNullOrEmpty(code) ? new Refusal("signing-code-missing", "Enter your signing code: it is what makes this your signature.")
            : await TryAsync(person, hash, code, ("signing-code-wrong", "This is not your signing code."), "Nothing was signed.", stop);
    }

    /// <summary>Why the password is not this person's; wrong ones count together with wrong codes.</summary>
    public async Task<Refusal?> WhyNotPasswordAsync(Actor actor, string password, string kept, CancellationToken stop)
    {
        var person = await PersonAsync(actor, stop);
        return await TryAsync(person, person.PasswordHash, password, ("password-wrong", "This is not your password."), kept, stop);
    }

    /// <summary>
    /// Why a change to how somebody gets in is not confirmed by the person's own password. A key has none to give, and is kept where nobody sits
    /// down; nor have the people of a demo.
    /// </summary>
    public async Task<Refusal?> WhyNotConfirmedAsync(Actor actor, string? password, string kept, CancellationToken stop) =>
        !await IsConfirmedByPasswordAsync(actor, stop) ? null
        : string.IsNullOrEmpty(password) ? new Refusal("own-password", $"Enter your own password: this changes how somebody gets in. {kept}")
        : await WhyNotPasswordAsync(actor, password, kept, stop);

    public async Task<bool> IsConfirmedByPasswordAsync(Actor actor, CancellationToken stop) => actor.KeyScopes is null && !(await PersonAsync(actor, stop)).IsDemo;

    /// <summary>Whether it was refused for the code: a try was counted, and another must not be for the same typing.</summary>
    public static bool IsAbout(Refusal refusal) => refusal.Code is "no-signing-code" or "signing-code-missing" or "signing-code-wrong" or "signing-locked";

    private async Task<Person> PersonAsync(Actor actor, CancellationToken stop)
    {
        await using var db = await factory.CreateDbContextAsync(stop);
        return await db.Users.AsNoTracking().SingleAsync(person => person.Id == actor.Person.Value, stop);
    }

    private async Task<Refusal?> TryAsync(Person person, string? hash, string secret, (string Code, string Words) wrong, string kept, CancellationToken stop)
    {
        var lockMinutes = Secrets.LockedFor.TotalMinutes;
        return await secrets.TryAsync(person, SecretKind.SigningCode, hash, secret, stop) switch
        {
            { IsRight: true } => null,
            { Locked: { } left } when left < Secrets.LockedFor => new Refusal("signing-locked", $"Signing is locked after {Secrets.MostTries} wrong tries, for another {Math.Ceiling(left.TotalMinutes):0} min. {kept}"),
            { Locked: not null } => new Refusal("signing-locked", $"{wrong.Words} After {Secrets.MostTries} wrong tries signing is locked for {lockMinutes:0} min. {kept}"),
            { TriesLeft: var more } => new Refusal(wrong.Code, $"{wrong.Words} {(more == 1 ? "One more try" : $"{more} more tries")}, then signing is locked for {lockMinutes:0} min. {kept}"),
        };
    }
}
