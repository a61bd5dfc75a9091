using Drainboard.Domain.Fleet;
using Drainboard.Domain.Isolation;
using Drainboard.Domain.Plumbing;
using Drainboard.Web.Features.Door;
using Drainboard.Web.Features.Plumbing;
using Drainboard.Web.Features.Pours;
using Microsoft.AspNetCore.Components;

namespace Drainboard.Web.Features.Isolation;

/// <summary>Where to look first. What is asked stands in the address, so that the page works without script and can be sent to a colleague.</summary>
public sealed partial class AdvicePage
{
    private AdviceView? _view;
    private PourView? _poured;
    private string? _pouredAt;
    private PlumbingBranch? _branch;
    private IReadOnlyDictionary<string, PipeMark> _marks = new Dictionary<string, PipeMark>();
    private AdviceAsk _ask = new();

    [Parameter] public required string Registration { get; set; }

    [Parameter] public required string At { get; set; }

    [SupplyParameterFromQuery(Name = "defect")] public string? DefectId { get; set; }

    /// <summary>The pour just saved.</summary>
    [SupplyParameterFromQuery(Name = "poured")] public string? PouredId { get; set; }

    /// <summary>Where that was, when it was at another fixture of the drain.</summary>
    [SupplyParameterFromQuery] public string? PouredAt { get; set; }

    [CascadingParameter] public required HttpContext Http { get; set; }

    [Inject] public required AdviceQuery Query { get; set; }

    [Inject] public required PoursQuery Pours { get; set; }

    [Inject] public required PlumbingQuery Plumbing { get; set; }

    /// <summary>The defect that this is about: the one that the address names, or what is open here.</summary>
    private Guid? Item => Guid.TryParse(DefectId, out var id) ? id : _view?.Item?.Id;

    protected override async Task OnInitializedAsync()
    {
        _ask = Read(Http.Request.Query);
        if (!Domain.Fleet.Registration.TryParse(Registration, out var mark) || !Position.TryParse(At, out var position))
        {
            return;
        }

        _view = await Query.ReadAsync(mark, position, _ask, Http.RequestAborted);
        if (Guid.TryParse(PouredId, out var id) && await Pours.ReadAsync(mark, Position.TryParse(PouredAt, out var other) ? other : position, Http.RequestAborted) is { } pours)
        {
            (_poured, _pouredAt) = (pours.Pours.FirstOrDefault(pour => pour.Id == id), pours.FixtureName);
        }

        if (_view?.Drain is { } drain && await Plumbing.ReadAsync(mark, Water.Drainage, await Plumbing.JunctionAsync(mark, position, Water.Drainage, Http.RequestAborted), Http.RequestAborted) is { } plumbing)
        {
            _branch = plumbing.Branch;
            _marks = drain.Segments.Aggregate(plumbing.Marks.ToDictionary(), (marks, segment) =>
            {
                marks[segment.Position] = (marks.GetValueOrDefault(segment.Position) ?? new PipeMark()) with { Blocked = segment.Blocked };
                return marks;
            });
        }
    }

    /// <summary>The pour page of a fixture, which leads back here with everything that was answered.</summary>
    private string PourAddress(string at)
    {
        var answers = Http.Request.Query.Where(one => one.Key is "aloftOnly" or "outside" or "backsUpInto" or "didNotHold" && one.Value.ToString().Length is > 0 and < 20).Select(one => $"{one.Key}={Uri.EscapeDataString(one.Value.ToString())}");
        return $"/tails/{_view!.Tail}/fixtures/{at}/pour?for={_view.Position}{(Item is { } defect ? $"&defect={defect}" : "")}&answers={Uri.EscapeDataString(string.Join('&', answers))}";
    }

    private static AdviceAsk Read(IQueryCollection query) => new(
        YesNo(query["aloftOnly"]), int.TryParse(query["outside"], out var outside) ? outside : null, Text(query["backsUpInto"]), Text(query["didNotHold"]),
        string.Join(',', query.Where(one => one.Key.StartsWith("toilet.", StringComparison.Ordinal) && one.Value == "flushes").Select(one => one.Key[7..])),
        string.Join(',', query.Where(one => one.Key.StartsWith("toilet.", StringComparison.Ordinal) && one.Value == "fails").Select(one => one.Key[7..])),
        Choice<VacuumRegime>.TryParse(query["regime"], null, out var regime) ? regime : null, YesNo(query["readsFull"]), YesNo(query["emptied"]));

    private static string? Text(string? value) => value is { Length: > 0 and <= 12 } ? value : null;

    private static bool? YesNo(string? value) => bool.TryParse(value, out var yes) ? yes : null;
}
