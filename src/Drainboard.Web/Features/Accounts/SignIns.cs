using System.Security.Claims;
using Drainboard.Data;
using Drainboard.Data.Accounts;
using Drainboard.Data.Records;
using Drainboard.Domain;
using Drainboard.Domain.Accounts;
using Drainboard.Web.Features.Door;
using Drainboard.Web.Features.Live;
using Drainboard.Web.Hosting;
using Microsoft.AspNetCore.Identity;
using Microsoft.EntityFrameworkCore;
using NodaTime;

namespace Drainboard.Web.Features.Accounts;

/// <summary>
/// The signed-in browsers. Each has a row, and its cookie names it: ended here, a copy of the cookie opens nothing, on any process, and pages that
/// are open end at once.
/// </summary>
public sealed class SignIns(IDbContextFactory<DrainboardDb> factory, IClock clock, ChangeFeed feed, SecurityLog log)
{
    public const string Claim = "drainboard:sign-in";

    // Ended ones are shown for a while, and then forgotten.
    private static readonly Duration Kept = Duration.FromDays(30);

    /// <summary>Signs a person in at this browser.</summary>
    public async Task BeginAsync(SignInManager<Person> manager, Person person, SignInMeans means, HttpContext http)
    {
        var now = clock.GetCurrentInstant();
        var signIn = new SignIn(NewId.At(now), new PersonId(person.Id), means, http.Request.Headers.UserAgent.ToString(), now);
        await using (var db = await factory.CreateDbContextAsync(http.RequestAborted))
        {
            db.SignIns.Add(signIn);
            await db.SaveChangesAsync(http.RequestAborted);
            await ForgetOldAsync(db, signIn.Person, now - SignIn.Longest - Kept, http.RequestAborted);
        }

        log.SignedIn(person.Id, means, http);
        await manager.SignInWithClaimsAsync(person, isPersistent: true, [new Claim(Claim, signIn.Id.ToString())]);
    }

    private static async Task ForgetOldAsync(DrainboardDb db, PersonId whose, Instant before, CancellationToken stop)
    {
        db.SignIns.RemoveRange(await db.SignIns.Where(row => row.Person == whose && row.BeganAt < before).ToArrayAsync(stop));
        try
        {
            await db.SaveChangesAsync(stop);
        }
        catch (DbUpdateConcurrencyException)
        {
            // Another sign-in of this person forgot them at the same moment.
        }
    }

    public async Task<IReadOnlyList<SignIn>> OpenAsync(PersonId person, CancellationToken stop)
    {
        await using var db = await factory.CreateDbContextAsync(stop);
        return await Open(db, clock.GetCurrentInstant()).AsNoTracking().Where(row => row.Person == person).OrderByDescending(row => row.BeganAt).ToArrayAsync(stop);
    }

    /// <summary>Ends one, or all but one, or all of a person's.</summary>
    public async Task EndAsync(PersonId person, Guid? one, Guid? allBut, CancellationToken stop)
    {
        var now = clock.GetCurrentInstant();
        await using var db = await factory.CreateDbContextAsync(stop);
        var ended = await Open(db, now).Where(row => row.Person == person && (one == null || row.Id == one) && (allBut == null || row.Id != allBut)).ExecuteUpdateAsync(row => row.SetProperty(signIn => signIn.EndedAt, now), stop);
        if (ended > 0)
        {
            db.Changes.Add(new Change(ChangeFeed.SignInsEnded, person.Value, now));
            await db.SaveAsync(new Writing(Actor.Installation, now, []), stop);
            feed.Ring();
            log.SignedOut(person.Value, ended);
        }
    }

    /// <summary>Ends all of a person's, as part of a change to the account: the change's own row tells the processes.</summary>
    public static async Task EndInAsync(Attempt attempt, Guid person)
    {
        var whose = new PersonId(person);
        foreach (var signIn in await Open(attempt.Db, attempt.Now).Where(row => row.Person == whose).ToArrayAsync(attempt.Stop))
        {
            signIn.End(attempt.Now);
        }
    }

    /// <summary>The row that a cookie names, or null where it names none.</summary>
    public static Guid? Of(ClaimsPrincipal principal) => Guid.TryParse(principal.FindFirstValue(Claim), out var id) ? id : null;

    public async Task<bool> IsOpenAsync(ClaimsPrincipal principal, CancellationToken stop)
    {
        await using var db = await factory.CreateDbContextAsync(stop);
        return Of(principal) is { } id && await Open(db, clock.GetCurrentInstant()).AnyAsync(row => row.Id == id, stop);
    }

    internal static IQueryable<SignIn> Open(DrainboardDb db, Instant now)
    {
        var oldest = now - SignIn.Longest;
        return db.SignIns.Where(row => row.EndedAt == null && row.BeganAt > oldest);
    }
}
