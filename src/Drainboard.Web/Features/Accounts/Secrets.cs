using Drainboard.Data;
using Drainboard.Data.Accounts;
using Microsoft.AspNetCore.Identity;
using Microsoft.EntityFrameworkCore;
using NodaTime;

namespace Drainboard.Web.Features.Accounts;

/// <summary>What came of trying a secret: right; or wrong, with how many tries are left; or not looked at, because it is locked for a while.</summary>
public sealed record SecretAnswer(bool IsRight, int TriesLeft, Duration? Locked);

/// <summary>
/// Tries a person's secret against its hash. Tries are counted in the database before the secret is looked at: however many are tried at
/// once, by however many processes, only so many are looked at.
/// </summary>
public sealed class Secrets(IDbContextFactory<DrainboardDb> factory, IPasswordHasher<Person> hasher, IClock clock)
{
    public const int MostTries = 5;
    public static readonly Duration LockedFor = Duration.FromMinutes(10);

    public async Task<SecretAnswer> TryAsync(Person person, SecretKind kind, string? hash, string secret, CancellationToken stop)
    {
        await using var db = await factory.CreateDbContextAsync(stop);
        await BeginAsync(db, person.Id, kind, stop);
        var now = clock.GetCurrentInstant();
        var mine = db.SecretTries.Where(row => row.Person == person.Id && row.Kind == kind);
        var counted = await mine.Where(row => row.Tries < MostTries && (row.LockedUntil == null || row.LockedUntil <= now)).ExecuteUpdateAsync(row => row.SetProperty(one => one.Tries, one => one.Tries + 1), stop);
        var after = await mine.AsNoTracking().SingleAsync(stop);
        if (counted == 0)
        {
            // Counted to the end and never locked: a process died in between.
            var left = after.LockedUntil is { } until && now < until ? until - now : LockedFor;
            await SayAsync(mine, now + left, stop);
            return new SecretAnswer(false, 0, left);
        }

        if (!string.IsNullOrEmpty(hash) && hasher.VerifyHashedPassword(person, hash, secret) != PasswordVerificationResult.Failed)
        {
            await SayAsync(mine, null, stop);
            return new SecretAnswer(true, MostTries, null);
        }

        if (after.Tries < MostTries)
        {
            return new SecretAnswer(false, MostTries - after.Tries, null);
        }

        await SayAsync(mine, now + LockedFor, stop);
        return new SecretAnswer(false, 0, LockedFor);
    }

    private async Task BeginAsync(DrainboardDb db, Guid person, SecretKind kind, CancellationToken stop)
    {
        if (await db.SecretTries.AnyAsync(row => row.Person == person && row.Kind == kind, stop))
        {
            return;
        }

        await using var other = await factory.CreateDbContextAsync(stop);
        other.SecretTries.Add(new SecretTries(person, kind));
        try
        {
            await other.SaveChangesAsync(stop);
        }
        catch (DbUpdateException failure) when (other.IsDuplicateKey(failure))
        {
            // Another try began it at the same moment.
        }
    }

    private static Task<int> SayAsync(IQueryable<SecretTries> mine, Instant? locked, CancellationToken stop) =>
        mine.ExecuteUpdateAsync(row => row.SetProperty(one => one.Tries, 0).SetProperty(one => one.LockedUntil, locked), stop);
}
