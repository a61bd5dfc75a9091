using Drainboard.Data.Accounts;
using Microsoft.AspNetCore.Identity;

namespace Drainboard.Web.Features.Accounts;

/// <summary>The account of a signed-in browser, as it stands now, for the few places that change how one signs in.</summary>
public sealed class CurrentPerson(UserManager<Person> people, SignIns signIns)
{
    public async Task<Person?> FindAsync(HttpContext http) =>
        await signIns.IsOpenAsync(http.User, http.RequestAborted) && await people.GetUserAsync(http.User) is { IsDisabled: false } person ? person : null;
}
