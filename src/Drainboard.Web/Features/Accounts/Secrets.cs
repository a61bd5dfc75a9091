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

    /// <summary>Wrong tries at one device, of whomever: more than a crew's slips of a shift, few enough that going through names there is slow (our choice).</summary>
    public const int MostTriesAtDevice = 20;

    public static readonly Duration LockedFor = Duration.FromMinutes(10);

    // Nobody's secret: a name that is not known costs as much as one that is.
    private readonly string _nobodys = hasher.HashPassword(new Person(), Guid.Empty.ToString());

    public async Task<SecretAnswer> TryAsync(Person person, SecretKind kind, string? hash, string secret, CancellationToken stop)
    {
        await using var db = await factory.CreateDbContextAsync(stop);
        var mine = Of(db, person.Id, kind);
        var (tries, locked) = await CountAsync(db, person.Id, kind, MostTries, stop);
        if (locked is { } left)
        {
            return new SecretAnswer(false, 0, left);
        }

        if (!string.IsNullOrEmpty(hash) && hasher.VerifyHashedPassword(person, hash, secret) != PasswordVerificationResult.Failed)
        {
            await SayAsync(mine, null, stop);
            return new SecretAnswer(true, MostTries, null);
        }

        if (tries < MostTries)
        {
            return new SecretAnswer(false, MostTries - tries, null);
        }

        await SayAsync(mine, clock.GetCurrentInstant() + LockedFor, stop);
        return new SecretAnswer(false, 0, LockedFor);
    }

    /// <summary>Counts a try at a device. Answers for how long none is looked at there, or null where this one may be.</summary>
    public async Task<Duration?> CountAtAsync(Device device, CancellationToken stop)
    {
        await using var db = await factory.CreateDbContextAsync(stop);
        return (await CountAsync(db, device.Id, SecretKind.PinAtDevice, MostTriesAtDevice, stop)).Locked;
    }

    /// <summary>It was right: that try does not count against the device.</summary>
    public async Task GiveBackAtAsync(Device device, CancellationToken stop)
    {
        await using var db = await factory.CreateDbContextAsync(stop);
        await Of(db, device.Id, SecretKind.PinAtDevice).Where(row => row.Tries > 0).ExecuteUpdateAsync(row => row.SetProperty(one => one.Tries, one => one.Tries - 1), stop);
    }

    /// <summary>Takes as long as looking at somebody's secret.</summary>
    public void LookAtNobodys(string secret) => _ = hasher.VerifyHashedPassword(new Person(), _nobodys, secret);

    private async Task<(int Tries, Duration? Locked)> CountAsync(DrainboardDb db, Guid whose, SecretKind kind, int most, CancellationToken stop)
    {
        await BeginAsync(db, whose, kind, stop);
        var now = clock.GetCurrentInstant();
        var mine = Of(db, whose, kind);
        var counted = await mine.Where(row => row.Tries < most && (row.LockedUntil == null || row.LockedUntil <= now)).ExecuteUpdateAsync(row => row.SetProperty(one => one.Tries, one => one.Tries + 1), stop);
        var after = await mine.AsNoTracking().SingleAsync(stop);
        if (counted > 0)
        {
            return (after.Tries, null);
        }

        // Counted to the end and not locked yet: from now on it is.
        var left = after.LockedUntil is { } until && now < until ? until - now : LockedFor;
        await SayAsync(mine, now + left, stop);
        return (most, left);
    }

    private async Task BeginAsync(DrainboardDb db, Guid whose, SecretKind kind, CancellationToken stop)
    {
        if (await Of(db, whose, kind).AnyAsync(stop))
        {
            return;
        }

        await using var other = await factory.CreateDbContextAsync(stop);
        other.SecretTries.Add(new SecretTries(whose, kind));
        try
        {
            await other.SaveChangesAsync(stop);
        }
        catch (DbUpdateException failure) when (other.IsDuplicateKey(failure))
        {
            // Another try began it at the same moment.
        }
    }

    private static IQueryable<SecretTries> Of(DrainboardDb db, Guid whose, SecretKind kind) => db.SecretTries.Where(row => row.Whose == whose && row.Kind == kind);

    private static Task<int> SayAsync(IQueryable<SecretTries> mine, Instant? locked, CancellationToken stop) =>
        mine.ExecuteUpdateAsync(row => row.SetProperty(one => one.Tries, 0).SetProperty(one => one.LockedUntil, locked), stop);
}
