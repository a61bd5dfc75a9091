using Drainboard.Domain;
using Drainboard.Domain.Accounts;
using Drainboard.Domain.PotableWater;
using Drainboard.Web.Features.Accounts;
using Drainboard.Web.Features.Door;
using Drainboard.Web.Features.Items;
using Drainboard.Web.Shell;
using Microsoft.AspNetCore.Components;
using NodaTime;
using NodaTime.Text;

namespace Drainboard.Web.Features.PotableWater;

/// <summary>A tail's drinking water. Every form is a wish of its own; what is entered without a connection waits on the device and is sent in its time.</summary>
public sealed partial class TailWaterPage
{
    private WaterView? _view;
    private IReadOnlyList<WaterProgrammeView> _programmes = [];
    private string? _trouble;
    private bool _mayWork;
    private bool _mayJudge;
    private bool _mayLift;
    private bool _mayManage;

    [Parameter] public required string Registration { get; set; }

    [SupplyParameterFromForm(FormName = WishReceiver.Name)] public WaterInput? Input { get; set; }

    [CascadingParameter] public required HttpContext Http { get; set; }

    [Inject] public required WaterQuery Query { get; set; }

    [Inject] public required WaterProgrammesQuery Programmes { get; set; }

    [Inject] public required RecordWaterDeedHandler Deeds { get; set; }

    [Inject] public required VoidWaterDeedHandler TakingOut { get; set; }

    [Inject] public required CollectSamplesHandler Collecting { get; set; }

    [Inject] public required TellSamplesHandler Telling { get; set; }

    [Inject] public required VoidSamplesHandler Voiding { get; set; }

    [Inject] public required OpenWaterCaseHandler Opening { get; set; }

    [Inject] public required ChooseWaterWayHandler Choosing { get; set; }

    [Inject] public required DoWaterStepHandler Steps { get; set; }

    [Inject] public required LiftWaterHandler Lifting { get; set; }

    [Inject] public required KeepWaterByHandler Keeping { get; set; }

    [Inject] public required CurrentActor Current { get; set; }

    [Inject] public required NavigationManager Navigation { get; set; }

    [Inject] public required IClock Clock { get; set; }

    private WaterInput Form => Input!;

    private string Zone => Form.Zone ?? "Etc/UTC";

    protected override async Task OnInitializedAsync()
    {
        var actor = await Current.GetAsync(Http.RequestAborted);
        (_mayWork, _mayJudge, _mayLift, _mayManage) = (May(actor, Act.WorkOnWater), May(actor, Act.JudgeWater), May(actor, Act.LiftWater), May(actor, Act.ManageWater));
        _view = Domain.Fleet.Registration.TryParse(Registration, out var mark) ? await Query.ReadAsync(mark, Http.RequestAborted) : null;
        _programmes = _mayManage ? await Programmes.ReadAsync(Http.RequestAborted) : [];
        Input ??= new WaterInput { Zone = _view?.Zone ?? "Etc/UTC" };
    }

    private static bool May(Actor actor, Act act) => Permissions.WhyNot(actor, act) is null;

    private async Task SendAsync()
    {
        var answer = await AskAsync(new Call(await Current.GetAsync(Http.RequestAborted), Form.CommandId, Form.Seen), Http.RequestAborted);
        _trouble = answer.Trouble;
        if (answer is Answer.Done)
        {
            Navigation.NavigateTo($"/tails/{Registration}/water");
        }
    }

    private async Task<Answer> AskAsync(Call call, CancellationToken stop)
    {
        if (!string.IsNullOrEmpty(Form.At) && Times.FromInput(Form.At, Zone) is null)
        {
            return new Refusal("no-time", $"\"{Form.At}\" is no time that can be read. Choose it anew, or leave it empty for now.");
        }

        var (at, of) = (Times.FromInput(Form.At, Zone) ?? Moment(Form.SavedAt) ?? Clock.GetCurrentInstant(), Guid.TryParse(Form.Of, out var id) ? id : Guid.Empty);
        return Form.What switch
        {
            "deed" when Enum.TryParse<WaterDeedKind>(Form.Kind, out var kind) => await Deeds.HandleAsync(call, Registration, new RecordWaterDeedRequest(Form.CommandId, kind, at, Form.Words ?? "", Form.Item, kind == WaterDeedKind.DeficiencyCorrected ? of : null), stop),
            "samples" when Enum.TryParse<SamplePurpose>(Form.Kind, out var purpose) => await Collecting.HandleAsync(call, Registration, new CollectSamplesRequest(Form.CommandId, purpose, Form.Taps ?? [], at, Form.Of is null ? null : of), stop),
            "case" when Enum.TryParse<WaterEvent>(Form.Kind, out var kind) => await Opening.HandleAsync(call, Registration, new OpenWaterCaseRequest(Form.CommandId, kind, at, Form.Words ?? ""), stop),
            "deed-out" => await TakingOut.HandleAsync(call, Registration, of, new ReasonRequest(Form.Words ?? ""), stop),
            "results" => await ResultsAsync(call, of, at, stop),
            "void" => await Voiding.HandleAsync(call, Registration, of, new ReasonRequest(Form.Words ?? ""), stop),
            "way" => await Choosing.HandleAsync(call, Registration, of, new ChooseWaterWayRequest(Form.Kind ?? ""), stop),
            "step" when Enum.TryParse<WaterAct>(Form.Kind, out var act) => await Steps.HandleAsync(call, Registration, of, new DoWaterStepRequest(act, at), stop),
            "lift" => await Lifting.HandleAsync(call, Registration, of, new LiftWaterRequest(Form.SigningCode), stop),
            "programme" => await Keeping.HandleAsync(call, Registration, new KeepWaterByRequest(Form.CommandId, Form.Words ?? ""), stop),
            _ => new Refusal("choose", "Choose what it is about. Nothing was saved."),
        };
    }

    private async Task<Answer> ResultsAsync(Call call, Guid set, Instant toldAt, CancellationToken stop)
    {
        var results = new List<SampleResult>();
        foreach (var (text, index) in (Form.Results ?? []).Select((text, index) => (text, index)).Where(one => one.text is "negative" or "coliform" or "ecoli"))
        {
            if (Times.FromInput(Form.Started?.ElementAtOrDefault(index), Zone) is not { } started)
            {
                return new Refusal("no-start", $"Sample {index + 1}: enter when its analysis began, from the laboratory's paper.");
            }

            results.Add(new SampleResult(index + 1, started, text != "negative", text == "ecoli"));
        }

        return results.Count == 0 ? new Refusal("no-result", "Choose at least one sample's result.") : await Telling.HandleAsync(call, Registration, set, new TellSamplesRequest(toldAt, results), stop);
    }

    // When the form was stored on the device.
    private static Instant? Moment(string? text) => InstantPattern.ExtendedIso.Parse(text ?? "") is { Success: true, Value: var at } ? at : null;

    public sealed class WaterInput : ItemInput
    {
        /// <summary>Which of the page's forms.</summary>
        public string? What { get; set; }

        /// <summary>The version of what it is about, where it is about something seen.</summary>
        public long? Seen { get; set; }

        /// <summary>The case, set or deficiency that it is about.</summary>
        public string? Of { get; set; }

        /// <summary>Which kind of deed, event, purpose, step or way.</summary>
        public string? Kind { get; set; }

        public string? Item { get; set; }

        public string? Words { get; set; }

        public string? At { get; set; }

        public string? SavedAt { get; set; }

        public List<string>? Taps { get; set; }

        public List<string>? Results { get; set; }

        public List<string>? Started { get; set; }
    }
}
