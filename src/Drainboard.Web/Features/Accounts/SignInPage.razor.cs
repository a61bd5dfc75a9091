using Drainboard.Data.Accounts;
using Drainboard.Web.Features.SetUp;
using Drainboard.Web.Hosting;
using Microsoft.AspNetCore.Components;
using Microsoft.AspNetCore.Identity;

namespace Drainboard.Web.Features.Accounts;

/// <summary>Sign-in with a password or a passkey; in a demo database, by choosing an invented person.</summary>
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

    [Inject] public required Passwords Passwords { get; set; }

    [Inject] public required SignIns SignIns { get; set; }

    [CascadingParameter] public required HttpContext Http { get; set; }

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
        var (person, trouble) = await Passwords.TryAsync(Input?.UserName ?? "", Input?.Password ?? "", Http);
        _trouble = trouble;
        if (person is not null)
        {
            await SignIns.BeginAsync(SignIn, person, SignInMeans.Password, Http);
            Navigation.NavigateTo(person.PasswordGivenAt is null ? Goal : "/me");
        }
    }

    private async Task SignInAsDemoAsync()
    {
        var person = await People.FindByNameAsync(Demo?.UserName ?? "");
        if (_installation is { IsDemo: true } && person is { IsDemo: true, IsDisabled: false })
        {
            await SignIns.BeginAsync(SignIn, person, SignInMeans.Demo, Http);
            Navigation.NavigateTo(Goal);
        }
    }

    private string Goal => Preferences.IsLocal(Back) ? Back! : "/";

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
