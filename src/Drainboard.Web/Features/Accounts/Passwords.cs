using System.Security.Cryptography;
using System.Text.RegularExpressions;
using Drainboard.Data;
using Drainboard.Data.Accounts;
using Drainboard.Domain;
using Drainboard.Web.Hosting;
using Microsoft.AspNetCore.Identity;
using Microsoft.EntityFrameworkCore;
using NodaTime;

namespace Drainboard.Web.Features.Accounts;

/// <summary>
/// What may be a password, and whether one opens an account. Tries are counted before they are looked at, as with every other secret; a name that
/// is not known is answered as slowly and in the same words as a wrong password.
/// </summary>
public sealed partial class Passwords(IDbContextFactory<DrainboardDb> factory, Secrets secrets, SecurityLog log, IClock clock)
{
    public const int Shortest = 12;
    public const int Longest = 128;

    // Without signs that are taken for one another.
    private const string Drawn = "abcdefghijkmnpqrstuvwxyz23456789";

    /// <summary>A password that an administrator gave is good for so long, until the person has set one of their own (our choice: over a weekend).</summary>
    public static readonly Duration GivenFor = Duration.FromHours(72);

    /// <summary>What is said of every sign-in that fails: it does not tell whether there is such an account.</summary>
    public const string Wrong = "User name and password do not belong together. Check both. After five wrong tries an account stays closed for ten minutes, even to the right password; an administrator can give a new one.";

    // Common practice, from memory: what is tried first, however it is dressed up.
    private static readonly string[] Common = ["password", "passwort", "qwerty", "qwertz", "azerty", "letmein", "welcome", "iloveyou", "administrator", "changeme", "football", "baseball", "sunshine", "princess", "superman", "trustno", "whatever", "computer", "internet", "drainboard", "aircraft", "airplane", "aeroplane", "maintenance", "technician"];

    /// <summary>Why this may not be a password; null when it may. Length counts, not signs: a few words in a row are good.</summary>
    /// <param name="about">What somebody who knows the person tries first: names, the operator.</param>
    public static Refusal? WhyNotChosen(string password, params IReadOnlyList<string> about)
    {
        if (password.Length < Shortest || password.Length > Longest)
        {
            return new Refusal("password", $"The password needs {Shortest} to {Longest} characters. A few words in a row are good.");
        }

        var known = Common.Concat(about.SelectMany(text => NotALetter().Split(text.ToLowerInvariant()))).Where(word => word.Length >= 4).OrderByDescending(word => word.Length).ToArray();
        return Left(password.ToLowerInvariant(), known) < 4 || Left(Undressed(password), known) < 4 || password.Distinct().Count() < 5 || IsOneAgainAndAgain(password)
            ? new Refusal("password-simple", "This password is guessed early: it is hardly more than a common word, a name, or one thing again and again. Take a few words that do not belong together.")
            : StolenPasswords.Has(password)
            ? new Refusal("password-stolen", "This password is on the lists of stolen ones, and those are tried first. Take a few words that do not belong together.")
            : null;
    }

    /// <summary>A password to be given: 100 random bits, in groups that can be read out.</summary>
    public static string Draw() => string.Join('-', Enumerable.Range(0, 5).Select(_ => RandomNumberGenerator.GetString(Drawn, 4)));

    /// <returns>The person, or null: the caller says <see cref="Wrong"/>, or that the given password has run out.</returns>
    public async Task<(Person? Person, string? Trouble)> TryAsync(string userName, string password, HttpContext http)
    {
        await using var db = await factory.CreateDbContextAsync(http.RequestAborted);
        var known = userName.Trim().ToUpperInvariant();
        var person = await db.Users.AsNoTracking().SingleOrDefaultAsync(one => one.NormalizedUserName == known, http.RequestAborted);
        if (person is null or { IsDisabled: true } or { PasswordHash: null })
        {
            secrets.LookAtNobodys(password);
            log.SignInRefused(person?.Id, person is null ? "no such account" : "closed or without a password", http);
            return (null, Wrong);
        }

        var answer = await secrets.TryAsync(person, SecretKind.Password, person.PasswordHash, password, http.RequestAborted);
        if (!answer.IsRight)
        {
            log.SignInRefused(person.Id, answer.Locked is null ? "wrong password" : "locked", http);
            return (null, Wrong);
        }

        if (person.PasswordGivenAt is { } given && given + GivenFor < clock.GetCurrentInstant())
        {
            log.SignInRefused(person.Id, "given password run out", http);
            return (null, $"The password that you were given was good for {GivenFor.TotalHours:0} hours. Ask an administrator for a new one.");
        }

        return (person, null);
    }

    /// <summary>How many letters are left when everything that is guessed at once is taken away.</summary>
    private static int Left(string password, string[] known) =>
        known.Aggregate(NotALetter().Replace(password, ""), (left, word) => left.Replace(word, "", StringComparison.Ordinal)).Length;

    private static bool IsOneAgainAndAgain(string text) =>
        Enumerable.Range(1, text.Length / 2).Any(period => Enumerable.Range(period, text.Length - period).All(at => text[at] == text[at - period]));

    // Signs for letters are the first thing that is tried.
    private static string Undressed(string text) =>
        text.ToLowerInvariant().Replace('0', 'o').Replace('1', 'i').Replace('3', 'e').Replace('4', 'a').Replace('@', 'a').Replace('5', 's').Replace('$', 's').Replace('7', 't');

    [GeneratedRegex("[^\\p{L}]+")]
    private static partial Regex NotALetter();
}
