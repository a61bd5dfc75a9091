using Drainboard.Domain.Accounts;
using Microsoft.AspNetCore.Components.Authorization;

namespace Drainboard.Web.Features.Accounts;

/// <summary>The person at this page, static or interactive.</summary>
public sealed class CurrentActor(AuthenticationStateProvider state, ActorAccess access)
{
    public async Task<Actor?> FindAsync(CancellationToken stop = default) =>
        await access.FindAsync((await state.GetAuthenticationStateAsync()).User, stop);

    /// <exception cref="UnauthorizedAccessException">Nobody is signed in any more.</exception>
    public async Task<Actor> GetAsync(CancellationToken stop = default) =>
        await FindAsync(stop) ?? throw new UnauthorizedAccessException("You are no longer signed in. Sign in again; what you typed is kept on this device.");
}
