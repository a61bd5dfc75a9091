using Drainboard.Domain;
using Drainboard.Domain.Accounts;
using Drainboard.Domain.Defects;
using Drainboard.Domain.Fleet;
using Drainboard.Web.Features.Accounts;
using Drainboard.Web.Features.Door;
using Drainboard.Web.Features.Fleet;
using Drainboard.Web.Features.Items;
using Drainboard.Web.Hosting;
using Drainboard.Web.Shell;
using Microsoft.AspNetCore.Components;
using NodaTime;

namespace Drainboard.Web.Features.Defects;

/// <summary>The report, in three plain steps: which aircraft, which fixture, what is seen. Nothing is chosen beforehand.</summary>
public sealed partial class ReportPage
{
    private IReadOnlyList<TailLine> _tails = [];
    private IReadOnlyList<Symptom> _choices = [];
    private TailView? _tail;
    private FixtureView? _fixture;
    private string? _trouble;

    [SupplyParameterFromQuery] public string? Tail { get; set; }

    [SupplyParameterFromQuery] public string? At { get; set; }

    [SupplyParameterFromForm(FormName = "report")] public ReportInput? Input { get; set; }

    [CascadingParameter] public required HttpContext Http { get; set; }

    [Inject] public required TailsQuery Tails { get; set; }

    [Inject] public required TailQuery OneTail { get; set; }

    [Inject] public required FixtureQuery Fixtures { get; set; }

    [Inject] public required IServiceProvider Services { get; set; }

    [Inject] public required CurrentActor Current { get; set; }

    [Inject] public required NavigationManager Navigation { get; set; }

    [Inject] public required IClock Clock { get; set; }

    protected override async Task OnInitializedAsync()
    {
        var stop = Http.RequestAborted;
        _tail = Registration.TryParse(Tail, out var mark) ? await OneTail.ReadAsync(mark, stop) : null;
        if (_tail is null)
        {
            _tails = await Tails.ReadAsync(stop);
            return;
        }

        _fixture = Position.TryParse(At, out var position) ? await Fixtures.ReadAsync(mark, position, null, stop) : null;
        if (_fixture is not null)
        {
            _choices = Symptoms.At(Enum.GetValues<FixtureKind>().Single(kind => kind.Words() == _fixture.Kind));
            var now = Clock.GetCurrentInstant();
            Input ??= new ReportInput { CommandId = NewId.At(now), Zone = _tail.Zone, SeenAt = Times.ForInput(now, _tail.Zone), LogBook = "Cabin" };
        }
    }

    private async Task SendAsync()
    {
        var stop = Http.RequestAborted;
        if (!Enum.TryParse<Symptom>(Input!.Symptom, out var symptom) || !Enum.TryParse<LeakAnswer>(Input.Leak, out var leak))
        {
            _trouble = "Say what you see, and whether it leaks.";
            return;
        }

        var actor = await Current.GetAsync(stop);
        var zone = Input.Zone ?? _tail!.Zone;
        if (Times.FromInput(Input.SeenAt, zone) is not { } seen)
        {
            _trouble = "Say when it was seen.";
            return;
        }

        Instant? saved = InstantAnyOffset.TryParse(Input.SavedAt ?? "", out var onDevice) ? onDevice : null;
        var request = new SendReportRequest(Input.CommandId, Tail!, At!, symptom, leak, seen, Input.LeakWhere, Enum.TryParse<FlightPhase>(Input.Phase, out var phase) ? phase : FlightPhase.NotSaid, Input.Words, saved, Input.Log(zone));
        var answer = await Services.GetRequiredService<SendReportHandler>().HandleAsync(new Call(actor, request.Id), request, null, stop);
        if (answer is not Answer.Done done)
        {
            _trouble = answer.Trouble;
            return;
        }

        // The report is in, whatever becomes of a photo; one that is no picture is told of and costs the others nothing.
        var photoTrouble = "";
        foreach (var file in Http.Request.Form.Files.Where(file => file.Length > 0))
        {
            using var bytes = new MemoryStream();
            await file.CopyToAsync(bytes, stop);
            if (await Services.GetRequiredService<AttachPhotoHandler>().HandleAsync(new Call(actor, NewId.At(Clock.GetCurrentInstant())), new ReportId(request.Id), bytes.ToArray(), stop) is { Trouble: { } trouble })
            {
                photoTrouble = $"&photo={Uri.EscapeDataString(trouble)}";
            }
        }

        Navigation.NavigateTo($"/defects/{done.Id}?received=true{photoTrouble}");
    }

    public sealed class ReportInput : ItemInput
    {
        public string? SeenAt { get; set; }

        /// <summary>When the device stored it, stamped there at submit; empty without script.</summary>
        public string? SavedAt { get; set; }

        public string? Symptom { get; set; }

        public string? Leak { get; set; }

        public string? LeakWhere { get; set; }

        public string? Phase { get; set; }

        public string? Words { get; set; }
    }
}
