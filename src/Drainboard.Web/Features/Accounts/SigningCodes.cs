using Drainboard.Data;
using Drainboard.Data.Accounts;
using Drainboard.Domain;
using Drainboard.Domain.Accounts;
using Microsoft.AspNetCore.Identity;
using Microsoft.EntityFrameworkCore;
using NodaTime;

namespace Drainboard.Web.Features.Accounts;

/// <summary>
/// The second secret that a person signs with. It is asked for at every signature, kept as a slow hash only, and locked for a while after
/// wrong ones in a row. It never enters the record, the log of wishes or a device.
/// </summary>
public sealed class SigningCodes(IDbContextFactory<DrainboardDb> factory, IPasswordHasher<Person> hasher, IClock clock)
{
    public const int Shortest = 6;
    public const int Longest = 64;
    private const int MostTries = 5;
    private static readonly Duration Locked = Duration.FromMinutes(10);

    /// <summary>Why a code may not be chosen; null when it may.</summary>
    public static Refusal? WhyNotChosen(string code) =>
        code.Length is < Shortest or > Longest
            ? new Refusal("signing-code-length", $"A signing code has {Shortest} to {Longest} characters.")
        : code.Distinct().Count() < 3 || "0123456789012345".Contains(code, StringComparison.Ordinal) || "9876543210987654".Contains(code, StringComparison.Ordinal)
            ? new Refusal("signing-code-simple", "This code is guessed at once. Choose one that is not a run of digits or one character again and again.")
        : null;

    /// <summary>Why this person may not sign with it now.</summary>
    public async Task<Refusal?> WhyNotAsync(Actor actor, string? code, CancellationToken stop)
    {
        await using var db = await factory.CreateDbContextAsync(stop);
        var person = await db.Users.AsNoTracking().SingleAsync(person => person.Id == actor.Person.Value, stop);
        return person.SigningCodeHash is not { } hash ? new Refusal("no-signing-code", "You have no signing code yet. Set one on the page with your name (Me), then sign.")
            : string.IsNullOrEmpty(code) ? new Refusal("signing-code-missing", "Enter your signing code: it is what makes this your signature.")
            : await TryAsync(db, person, hash, code, ("signing-code-wrong", "This is not your signing code."), stop);
    }

    /// <summary>Why the password is not this person's; wrong ones count together with wrong codes.</summary>
    public async Task<Refusal?> WhyNotPasswordAsync(Actor actor, string password, CancellationToken stop)
    {
        await using var db = await factory.CreateDbContextAsync(stop);
        var person = await db.Users.AsNoTracking().SingleAsync(person => person.Id == actor.Person.Value, stop);
        return await TryAsync(db, person, person.PasswordHash ?? "", password, ("password-wrong", "This is not your password. The signing code is as it was."), stop);
    }

    // Counted before it is looked at, in the database: however many are tried at once, only so many are looked at.
    private async Task<Refusal?> TryAsync(DrainboardDb db, Person person, string hash, string secret, (string Code, string Words) wrong, CancellationToken stop)
    {
        var now = clock.GetCurrentInstant();
        var counted = await db.Users.Where(row => row.Id == person.Id && row.SigningTries < MostTries && (row.SigningLockedUntil == null || row.SigningLockedUntil <= now)).ExecuteUpdateAsync(row => row.SetProperty(one => one.SigningTries, one => one.SigningTries + 1), stop);
        var after = await db.Users.AsNoTracking().Where(row => row.Id == person.Id).Select(row => new { row.SigningTries, row.SigningLockedUntil }).SingleAsync(stop);
        if (counted == 0)
        {
            // Counted to the end and never locked: a process died in between.
            var left = after.SigningLockedUntil is { } until && now < until ? until - now : Locked;
            await SayAsync(db, person.Id, now + left, stop);
            return new Refusal("signing-locked", $"Signing is locked after {MostTries} wrong tries, for another {Math.Ceiling(left.TotalMinutes):0} min. Nothing was signed.");
        }

        if (hash.Length > 0 && hasher.VerifyHashedPassword(person, hash, secret) != PasswordVerificationResult.Failed)
        {
            await SayAsync(db, person.Id, null, stop);
            return null;
        }

        if (after.SigningTries >= MostTries)
        {
            await SayAsync(db, person.Id, now + Locked, stop);
            return new Refusal("signing-locked", $"{wrong.Words} After {MostTries} wrong tries signing is locked for {Locked.TotalMinutes:0} min. Nothing was signed.");
        }

        var more = MostTries - after.SigningTries;
        return new Refusal(wrong.Code, $"{wrong.Words} {(more == 1 ? "One more try" : $"{more} more tries")}, then signing is locked for {Locked.TotalMinutes:0} min. Nothing was signed.");
    }

    private static Task<int> SayAsync(DrainboardDb db, Guid person, Instant? locked, CancellationToken stop) =>
        db.Users.Where(row => row.Id == person).ExecuteUpdateAsync(row => row.SetProperty(one => one.SigningTries, 0).SetProperty(one => one.SigningLockedUntil, locked), stop);
}
