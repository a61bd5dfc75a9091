using Drainboard.Domain;
using Drainboard.Domain.Accounts;
using Drainboard.Web.Features.Accounts;
using Drainboard.Web.Features.Door;
using Drainboard.Web.Shell;
using Microsoft.AspNetCore.Components;
using NodaTime;
using NodaTime.Text;

namespace Drainboard.Web.Features.Tanks;

/// <summary>What the pages of the two service panels share; the panels themselves are never one form.</summary>
public abstract class ServicePage : ComponentBase
{
    [Parameter] public required string Registration { get; set; }

    [SupplyParameterFromForm(FormName = "service")] public ServiceInput? Input { get; set; }

    [CascadingParameter] public required HttpContext Http { get; set; }

    [Inject] public required TanksQuery Query { get; set; }

    [Inject] public required CurrentActor Current { get; set; }

    [Inject] public required NavigationManager Navigation { get; set; }

    [Inject] public required IClock Clock { get; set; }

    protected TanksView? View { get; private set; }

    protected bool May { get; private set; }

    protected string? Trouble { get; private set; }

    protected abstract string Path { get; }

    protected abstract Task<Answer> AskAsync(Call call, Instant at);

    protected virtual Task LoadAsync() => Task.CompletedTask;

    protected override async Task OnInitializedAsync()
    {
        May = Permissions.WhyNot(await Current.GetAsync(Http.RequestAborted), Act.RecordServicing) is null;
        View = Domain.Fleet.Registration.TryParse(Registration, out var mark) ? await Query.ReadAsync(mark, Http.RequestAborted) : null;
        Input ??= new ServiceInput { CommandId = NewId.At(Clock.GetCurrentInstant()) };
        await LoadAsync();
    }

    protected async Task SendAsync()
    {
        var entered = Times.FromInput(Input!.At, Input.Zone ?? "Etc/UTC");
        if (!string.IsNullOrEmpty(Input.At) && entered is null)
        {
            Trouble = $"\"{Input.At}\" is no time that can be read. Choose it anew, or leave it empty for now.";
            return;
        }

        var at = entered ?? (InstantPattern.ExtendedIso.Parse(Input.SavedAt ?? "") is { Success: true, Value: var saved } ? saved : Clock.GetCurrentInstant());
        var answer = await AskAsync(new Call(await Current.GetAsync(Http.RequestAborted), Input.CommandId), at);
        Trouble = answer.Trouble;
        if (answer is Answer.Done)
        {
            Navigation.NavigateTo($"/tails/{Registration}/{Path}");
        }
    }

    public sealed class ServiceInput
    {
        public Guid CommandId { get; set; }

        /// <summary>When the form was stored on the device.</summary>
        public string? SavedAt { get; set; }

        /// <summary>When it was done, in the zone that the page was shown in.</summary>
        public string? At { get; set; }

        public string? Zone { get; set; }

        public int? Litres { get; set; }

        public int? Precharge { get; set; }

        public bool Full { get; set; }

        public string? Source { get; set; }

        public bool CapClosed { get; set; }

        public bool DoorClosed { get; set; }

        public string? Leak { get; set; }
    }
}
