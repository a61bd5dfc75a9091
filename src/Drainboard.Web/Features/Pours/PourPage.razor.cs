using System.Globalization;
using Drainboard.Domain;
using Drainboard.Domain.Fleet;
using Drainboard.Domain.Pours;
using Drainboard.Web.Features.Accounts;
using Drainboard.Web.Features.Door;
using Microsoft.AspNetCore.Components;
using NodaTime;
using NodaTime.Text;

namespace Drainboard.Web.Features.Pours;

/// <summary>The stopwatch page. What it times survives a locked screen, a reload and a lost connection, because it keeps the moments and not the ticks.</summary>
public sealed partial class PourPage
{
    private PoursView? _view;
    private string? _trouble;

    [Parameter] public required string Registration { get; set; }

    [Parameter] public required string At { get; set; }

    [SupplyParameterFromQuery(Name = "defect")] public string? DefectId { get; set; }

    private Guid? Defect => Guid.TryParse(DefectId, out var id) ? id : null;

    /// <summary>The fixture whose advice asked for this pour, if another's did.</summary>
    [SupplyParameterFromQuery] public string? For { get; set; }

    /// <summary>What was answered there, to go on with.</summary>
    [SupplyParameterFromQuery] public string? Answers { get; set; }

    /// <summary>The page of a work card that asked for this pour: "card" or "steps". Then it proves the work, and leads back there.</summary>
    [SupplyParameterFromQuery] public string? Proves { get; set; }

    [SupplyParameterFromForm(FormName = "pour")] public PourInput? Input { get; set; }

    [CascadingParameter] public required HttpContext Http { get; set; }

    [Inject] public required PoursQuery Query { get; set; }

    [Inject] public required RecordPourHandler Handler { get; set; }

    [Inject] public required CurrentActor Current { get; set; }

    [Inject] public required NavigationManager Navigation { get; set; }

    [Inject] public required IClock Clock { get; set; }

    private PourView? Clean => _view?.Pours.FirstOrDefault(pour => pour is { CleanReference: true, Withdrawn: null });

    protected override async Task OnInitializedAsync()
    {
        _view = Domain.Fleet.Registration.TryParse(Registration, out var mark) && Position.TryParse(At, out var position) ? await Query.ReadAsync(mark, position, Http.RequestAborted) : null;
        Input ??= new PourInput { CommandId = NewId.At(Clock.GetCurrentInstant()), Manner = _view?.UsualMeasure is { } usual ? usual.Millilitres is null ? "marks" : "volume" : null, Litres = Text(_view?.UsualMeasure?.Millilitres / 1000m), From = Text(_view?.UsualMeasure?.FromMillimetres), To = Text(_view?.UsualMeasure?.ToMillimetres) };
    }

    private async Task SendAsync()
    {
        if (!Enum.TryParse<PourRun>(Input!.Run, out var run) || Input.Manner is not ("volume" or "marks") || Number(Input.Seconds) is not { } seconds)
        {
            _trouble = "Say what you timed, the seconds, and how it ran.";
            return;
        }

        var volume = Input.Manner == "volume";
        var request = new RecordPourRequest(
            Input.CommandId, seconds, run, Moment(Input.PouredAt) ?? Moment(Input.SavedAt) ?? Clock.GetCurrentInstant(), Input.Confirmed ?? [],
            volume ? (int?)(Number(Input.Litres) * 1000) : null, volume ? null : (int?)Number(Input.From), volume ? null : (int?)Number(Input.To), null, Input.Clean, Defect, Proves is "card" or "steps");
        var answer = await Handler.HandleAsync(new Call(await Current.GetAsync(Http.RequestAborted), Input.CommandId), Registration, At, request, Http.RequestAborted);
        _trouble = answer.Trouble;
        if (answer is Answer.Done)
        {
            if (Proves is "card" or "steps" && Defect is { } proved)
            {
                Navigation.NavigateTo($"/defects/{proved}/card{(Proves == "steps" ? "/steps" : "")}");
                return;
            }

            var back = Position.TryParse(For, out var asked) ? asked.Value : At;
            Navigation.NavigateTo($"/tails/{Registration}/fixtures/{back}/where?poured={Input.CommandId}&pouredAt={At}{(Defect is { } id ? $"&defect={id}" : "")}{(string.IsNullOrEmpty(Answers) ? "" : $"&{Answers}")}");
        }
    }

    private static Instant? Moment(string? text) => InstantPattern.ExtendedIso.Parse(text ?? "") is { Success: true, Value: var at } ? at : null;

    private static decimal? Number(string? text) => decimal.TryParse((text ?? "").Replace(',', '.'), NumberStyles.Number, CultureInfo.InvariantCulture, out var value) && value is > -100_000 and < 100_000 ? value : null;

    private static string? Text(decimal? value) => value?.ToString("0.###", CultureInfo.InvariantCulture);

    public sealed class PourInput
    {
        public Guid CommandId { get; set; }

        /// <summary>When the watch was started, stamped on the device; empty without script.</summary>
        public string? PouredAt { get; set; }

        /// <summary>When the form was stored on the device: the time of a pour timed by another watch.</summary>
        public string? SavedAt { get; set; }

        public List<string>? Confirmed { get; set; }

        public string? Manner { get; set; }

        public string? Litres { get; set; }

        public string? From { get; set; }

        public string? To { get; set; }

        public string? Seconds { get; set; }

        public string? Run { get; set; }

        public bool Clean { get; set; }
    }
}
