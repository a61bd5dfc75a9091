using System.Security.Claims;
using Drainboard.Data.Accounts;
using Microsoft.AspNetCore.Components.Authorization;
using Microsoft.AspNetCore.Components.Server;
using Microsoft.AspNetCore.Identity;

namespace Drainboard.Web.Features.Accounts;

/// <summary>A page that stays open does not outlive a sign-out elsewhere by more than a minute.</summary>
internal sealed class RevalidatingPerson(ILoggerFactory log, IServiceScopeFactory scopes) : RevalidatingServerAuthenticationStateProvider(log)
{
    protected override TimeSpan RevalidationInterval => TimeSpan.FromMinutes(1);

    protected override async Task<bool> ValidateAuthenticationStateAsync(AuthenticationState authenticationState, CancellationToken cancellationToken)
    {
        await using var scope = scopes.CreateAsyncScope();
        var people = scope.ServiceProvider.GetRequiredService<UserManager<Person>>();
        var person = await people.GetUserAsync(authenticationState.User);
        return person is { IsDisabled: false }
            && authenticationState.User.FindFirstValue(new ClaimsIdentityOptions().SecurityStampClaimType) == await people.GetSecurityStampAsync(person);
    }
}
