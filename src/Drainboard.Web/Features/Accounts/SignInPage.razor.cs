using Drainboard.Data.Accounts;
using Drainboard.Web.Features.SetUp;
using Drainboard.Web.Hosting;
using Microsoft.AspNetCore.Components;
using Microsoft.AspNetCore.Identity;

namespace Drainboard.Web.Features.Accounts;

/// <summary>Sign-in with a password; in a demo database, by choosing an invented person.</summary>
public sealed partial class SignInPage
{
    private InstallationView? _installation;
    private IReadOnlyList<PersonView> _demo = [];
    private string? _trouble;

    [SupplyParameterFromQuery] public string? Back { get; set; }

    [SupplyParameterFromForm(FormName = "sign-in")] public SignInInput? Input { get; set; }

    [SupplyParameterFromForm(FormName = "demo")] public DemoInput? Demo { get; set; }

    [Inject] public required SignInManager<Person> SignIn { get; set; }

    [Inject] public required UserManager<Person> People { get; set; }

    [Inject] public required PeopleQuery Query { get; set; }

    [Inject] public required InstallationQuery Installation { get; set; }

    [Inject] public required NavigationManager Navigation { get; set; }

    protected override async Task OnInitializedAsync()
    {
        _installation = await Installation.ReadAsync(CancellationToken.None);
        _demo = _installation.IsDemo ? await Query.ReadDemoAsync(CancellationToken.None) : [];
    }

    private async Task SignInAsync()
    {
        var person = await People.FindByNameAsync(Input?.UserName ?? "");
        var result = person is null or { IsDisabled: true } ? SignInResult.Failed : await SignIn.PasswordSignInAsync(person, Input?.Password ?? "", isPersistent: true, lockoutOnFailure: true);
        if (result.Succeeded)
        {
            GoBack();
            return;
        }

        _trouble = result.IsLockedOut
            ? "Too many tries. This account is locked for ten minutes; an administrator can give a new password."
            : "User name and password do not belong together. Check both; after five tries the account is locked for ten minutes.";
    }

    private async Task SignInAsDemoAsync()
    {
        var person = await People.FindByNameAsync(Demo?.UserName ?? "");
        if (_installation is { IsDemo: true } && person is { IsDemo: true, IsDisabled: false })
        {
            await SignIn.SignInAsync(person, isPersistent: true);
            GoBack();
        }
    }

    private void GoBack() => Navigation.NavigateTo(Preferences.IsLocal(Back) ? Back! : "/");

    public sealed class SignInInput
    {
        public string? UserName { get; set; }

        public string? Password { get; set; }
    }

    public sealed class DemoInput
    {
        public string? UserName { get; set; }
    }
}
