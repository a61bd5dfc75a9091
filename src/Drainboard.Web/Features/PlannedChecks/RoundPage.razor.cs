using Drainboard.Domain;
using Drainboard.Domain.Accounts;
using Drainboard.Domain.Defects;
using Drainboard.Domain.PlannedChecks;
using Drainboard.Web.Features.Accounts;
using Drainboard.Web.Features.Door;
using Drainboard.Web.Features.Items;
using Microsoft.AspNetCore.Components;
using NodaTime;
using NodaTime.Text;

namespace Drainboard.Web.Features.PlannedChecks;

/// <summary>A walk-round by phone: one tap for what is good, a short form with a photo for what is not. What is ticked without a connection waits on the device.</summary>
public sealed partial class RoundPage
{
    private RoundView? _view;
    private string? _trouble;
    private bool _may;

    [Parameter] public required string Registration { get; set; }

    [SupplyParameterFromForm(FormName = WishReceiver.Name)] public RoundInput? Input { get; set; }

    [CascadingParameter] public required HttpContext Http { get; set; }

    [Inject] public required RoundQuery Query { get; set; }

    [Inject] public required RecordCheckHandler Recording { get; set; }

    [Inject] public required TakeBackCheckHandler TakingBack { get; set; }

    [Inject] public required CurrentActor Current { get; set; }

    [Inject] public required NavigationManager Navigation { get; set; }

    /// <summary>The lines of one check and urgency together, in order of the most urgent of each.</summary>
    private IEnumerable<IReadOnlyList<RoundLine>> Groups => _view!.Lines.GroupBy(line => line.Check).Select(alike => (IReadOnlyList<RoundLine>)[.. alike]);

    protected override async Task OnInitializedAsync()
    {
        _may = Permissions.WhyNot(await Current.GetAsync(Http.RequestAborted), Act.DoCheck) is null;
        await ReadAsync();
        Input ??= new RoundInput { Zone = _view?.Zone ?? "Etc/UTC" };
    }

    private async Task ReadAsync() => _view = Domain.Fleet.Registration.TryParse(Registration, out var mark) ? await Query.ReadAsync(mark, Http.RequestAborted) : null;

    private async Task SendAsync()
    {
        var answer = await AskAsync(new Call(await Current.GetAsync(Http.RequestAborted), Input!.CommandId), Http.RequestAborted);
        _trouble = answer.Trouble;
        if (answer is Answer.Done)
        {
            Navigation.NavigateTo($"/tails/{Registration}/round");
        }
    }

    private async Task<Answer> AskAsync(Call call, CancellationToken stop)
    {
        if (Input!.What == "back")
        {
            return await TakingBack.HandleAsync(call, Registration, Guid.TryParse(Input.Of, out var of) ? of : Guid.Empty, new ReasonRequest(Input.Words ?? ""), stop);
        }

        Instant? at = InstantPattern.ExtendedIso.Parse(Input.SavedAt ?? "") is { Success: true, Value: var saved } ? saved : null;
        var request = new RecordCheckRequest(Input.CommandId, Input.Check ?? "", Input.Position, CheckOutcome.Good, at, Number: Input.Number);
        return Input.What switch
        {
            "good" => await Recording.HandleAsync(call, Registration, request, null, stop),
            "not-reached" => await Recording.HandleAsync(call, Registration, request with { Outcome = CheckOutcome.NotReached }, null, stop),
            "finding" when SymptomSaid() is null => new Refusal("symptom", "Say what is seen: choose it from the list."),
            "finding" when !Enum.TryParse<LeakAnswer>(Input.Leak, out _) => new Refusal("leak", "Answer whether it leaks."),
            "finding" => await Recording.HandleAsync(call, Registration, request with { Outcome = CheckOutcome.Finding, Finding = Found() }, await PhotoAsync(stop), stop),
            _ => new Refusal("choose", "Choose how the check came out. Nothing was saved."),
        };
    }

    // What is written up already has its symptom there.
    private Symptom? SymptomSaid() => Enum.TryParse<Symptom>(Input!.Symptom, out var said) ? said : _view?.Standing.FirstOrDefault(item => item.Id.ToString() == Input.AddTo)?.Symptom;

    private FindingRequest Found() =>
        new(SymptomSaid()!.Value, Enum.Parse<LeakAnswer>(Input!.Leak!), Input.LeakWhere, Input.Words, string.IsNullOrEmpty(Input.FoundAt) ? null : Input.FoundAt, Guid.TryParse(Input.AddTo, out var same) ? same : null);

    private async Task<byte[]?> PhotoAsync(CancellationToken stop)
    {
        if (Http.Request.Form.Files is not [{ Length: > 0 } file, ..])
        {
            return null;
        }

        using var bytes = new MemoryStream();
        await using var stream = file.OpenReadStream();
        await stream.CopyToAsync(bytes, stop);
        return bytes.ToArray();
    }

    public sealed class RoundInput : ItemInput
    {
        /// <summary>Which button: good, not-reached, finding or back.</summary>
        public string? What { get; set; }

        public string? Check { get; set; }

        public string? Position { get; set; }

        /// <summary>The version of the check that the person read.</summary>
        public int? Number { get; set; }

        /// <summary>When the form was stored on the device: the time of a check ticked without a connection.</summary>
        public string? SavedAt { get; set; }

        public string? Symptom { get; set; }

        public string? Leak { get; set; }

        public string? LeakWhere { get; set; }

        public string? Words { get; set; }

        /// <summary>Where something was found, where the check is of the whole aircraft.</summary>
        public string? FoundAt { get; set; }

        public string? AddTo { get; set; }

        /// <summary>The check that is taken back.</summary>
        public string? Of { get; set; }
    }
}
