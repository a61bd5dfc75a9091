using System.Security.Claims;
using Drainboard.Data.Accounts;
using Drainboard.Web.Features.Live;
using Microsoft.AspNetCore.Components.Authorization;
using Microsoft.AspNetCore.Components.Server;
using Microsoft.AspNetCore.Identity;

namespace Drainboard.Web.Features.Accounts;

/// <summary>A page that stays open ends with its sign-in: at once where a process says so, within a minute in any case.</summary>
internal sealed class RevalidatingPerson : RevalidatingServerAuthenticationStateProvider
{
    private readonly IServiceScopeFactory _scopes;
    private readonly ChangeFeed _feed;
    private readonly CancellationTokenSource _gone = new();

    public RevalidatingPerson(ILoggerFactory log, IServiceScopeFactory scopes, ChangeFeed feed)
        : base(log)
    {
        (_scopes, _feed) = (scopes, feed);
        feed.SignInsChanged += LookAgain;
    }

    protected override TimeSpan RevalidationInterval => TimeSpan.FromMinutes(1);

    protected override async Task<bool> ValidateAuthenticationStateAsync(AuthenticationState authenticationState, CancellationToken cancellationToken)
    {
        await using var scope = _scopes.CreateAsyncScope();
        if (await scope.ServiceProvider.GetRequiredService<ActorAccess>().FindAsync(authenticationState.User, cancellationToken) is not { NeedsPasskey: false })
        {
            return false;
        }

        var people = scope.ServiceProvider.GetRequiredService<UserManager<Person>>();
        return await people.GetUserAsync(authenticationState.User) is { } person
            && authenticationState.User.FindFirstValue(new ClaimsIdentityOptions().SecurityStampClaimType) == await people.GetSecurityStampAsync(person);
    }

    protected override void Dispose(bool disposing)
    {
        _feed.SignInsChanged -= LookAgain;
        _gone.Cancel();
        base.Dispose(disposing);
    }

    private void LookAgain(IReadOnlySet<Guid> about) => _ = LookAgainAsync(about);

    private async Task LookAgainAsync(IReadOnlySet<Guid> about)
    {
        try
        {
            var now = await GetAuthenticationStateAsync();
            if (Guid.TryParse(now.User.FindFirstValue(ClaimTypes.NameIdentifier), out var person) && (about.Contains(person) || about.Contains(Guid.Empty)) && !await ValidateAuthenticationStateAsync(now, _gone.Token))
            {
                SetAuthenticationState(Task.FromResult(new AuthenticationState(new ClaimsPrincipal(new ClaimsIdentity()))));
            }
        }
        catch (Exception failure) when (failure is OperationCanceledException or InvalidOperationException or System.Data.Common.DbException)
        {
            // The page is gone, or the database is away: the look by timer comes.
        }
    }
}
