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
        var now = clock.GetCurrentInstant();
        var person = await db.Users.AsNoTracking().SingleAsync(person => person.Id == actor.Person.Value, stop);
        if (person.SigningCodeHash is not { } hash)
        {
            return new Refusal("no-signing-code", "You have no signing code yet. Set one on the page with your name (Me), then sign.");
        }

        if (person.SigningLockedUntil is { } until && now < until)
        {
            return new Refusal("signing-locked", $"Signing is locked after {MostTries} wrong codes, for another {Math.Ceiling((until - now).TotalMinutes):0} min. Nothing was signed.");
        }

        if (string.IsNullOrEmpty(code))
        {
            return new Refusal("signing-code-missing", "Enter your signing code: it is what makes this your signature.");
        }

        if (hasher.VerifyHashedPassword(person, hash, code) != PasswordVerificationResult.Failed)
        {
            if (person.SigningTries > 0)
            {
                await SayAsync(db, person.Id, 0, null, stop);
            }

            return null;
        }

        var tries = person.SigningTries + 1;
        await SayAsync(db, person.Id, tries % MostTries, tries >= MostTries ? now + Locked : null, stop);
        return tries >= MostTries
            ? new Refusal("signing-locked", $"This is not your signing code. After {MostTries} wrong ones signing is locked for {Locked.TotalMinutes:0} min. Nothing was signed.")
            : new Refusal("signing-code-wrong", $"This is not your signing code. {(MostTries - tries == 1 ? "One more try" : $"{MostTries - tries} more tries")}, then signing is locked for {Locked.TotalMinutes:0} min. Nothing was signed.");
    }

    private static Task<int> SayAsync(DrainboardDb db, Guid person, int tries, Instant? locked, CancellationToken stop) =>
        db.Users.Where(row => row.Id == person).ExecuteUpdateAsync(row => row.SetProperty(one => one.SigningTries, tries).SetProperty(one => one.SigningLockedUntil, locked), stop);
}
