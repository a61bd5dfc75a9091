using System.Globalization;
using Drainboard.Domain;
using Drainboard.Domain.Accounts;
using Drainboard.Domain.Fleet;
using Drainboard.Domain.ShiftPlans;
using Drainboard.Planning;
using Drainboard.Web.Features.Accounts;
using Drainboard.Web.Features.Door;
using Drainboard.Web.Features.Fleet;
using Drainboard.Web.Features.Handovers;
using Drainboard.Web.Shell;
using Microsoft.AspNetCore.Components;
using NodaTime;
using NodaTime.Text;

namespace Drainboard.Web.Features.ShiftPlans;

/// <summary>A lead plans a shift: who is there, what is pinned, a plan that a solver stands behind, given out to the technicians' lists.</summary>
public sealed partial class ShiftPlanPage
{
    private const double PixelsAMinute = 3;

    private static readonly LocalDateTimePattern Wall = LocalDateTimePattern.CreateWithInvariantCulture("uuuu-MM-dd'T'HH:mm");
    private static readonly (double Value, string Words)[] Chances = [(0.5, "half of all cases"), (0.7, "7 of 10 cases"), (0.8, "8 of 10 cases"), (0.9, "9 of 10 cases")];

    private readonly HashSet<Guid> _there = [];
    private readonly Dictionary<Guid, ItemWish> _wishes = [];
    private readonly List<PlanProgress> _steps = [];
    private IReadOnlyList<StationView> _stations = [];
    private ShiftDraft? _draft;
    private ShiftPlanView? _given;
    private SolvedShift? _solved;
    private ShiftWish? _asked;
    private Actor? _actor;
    private CancellationTokenSource? _solving;
    private Instant _from;
    private Instant _to;
    private double _chance = 0.7;
    private int _seconds = 5;
    private bool _mayPlan;
    private bool _wishesAsked;
    private string? _trouble;
    private string? _done;

    [Parameter] public string? Station { get; set; }

    [Inject] public required ShiftPlanQuery Query { get; init; }

    [Inject] public required StationsQuery Stations { get; init; }

    [Inject] public required ShiftSolver Solver { get; init; }

    [Inject] public required GiveShiftPlanHandler Giving { get; init; }

    [Inject] public required CurrentActor Current { get; init; }

    [Inject] public required IClock Clock { get; init; }

    private PlanContent? Shown => _solved?.Content ?? _given?.Content;

    protected override async Task OnParametersSetAsync()
    {
        _stations = await Stations.ReadAsync(Stop);
        _actor = await Current.FindAsync(Stop);
        (_draft, _given, _solved, _trouble, _done) = (null, null, null, null, null);
        _wishes.Clear();
        _there.Clear();
        _steps.Clear();
        if (!StationCode.TryParse(Station, out var code))
        {
            return;
        }

        _given = await Query.CurrentAsync(code, Stop);
        _draft = await Query.DraftAsync(code, _given?.From, _given?.To, _chance, Stop);
        if (_draft is { } draft)
        {
            (_from, _to) = (draft.From, draft.To);
            _there.UnionWith(_given?.Content.People.Select(person => person.Person) ?? draft.People.Select(person => person.Person));
            _mayPlan = _actor is not null && Permissions.WhyNot(_actor, Act.PlanShift) is null && AtStation.WhyNot(_actor, code) is null;
        }
    }

    protected override async Task ReadAsync()
    {
        if (_draft is { } draft)
        {
            var code = StationCode.Parse(draft.Station);
            _given = await Query.CurrentAsync(code, Stop);
            _draft = StationPlan.WhyNot(_from, _to) is null ? await Query.DraftAsync(code, _from, _to, _chance, Stop) : draft;
        }
    }

    /// <summary>Plans, and plans anew with what was dropped on somebody meanwhile.</summary>
    private async Task PlanAsync(bool keep)
    {
        await PlanOnceAsync(keep);
        while (_wishesAsked)
        {
            _wishesAsked = false;
            await PlanOnceAsync(_given is not null);
        }
    }

    private async Task PlanOnceAsync(bool keep)
    {
        (_trouble, _done) = (null, null);
        _steps.Clear();
        _asked = new ShiftWish(_from, _to, [.. _there.Select(person => new ShiftPerson(person))], [.. _wishes.Values], _chance, KeepPlan: keep);
        _solving = CancellationTokenSource.CreateLinkedTokenSource(Stop);
        try
        {
            var (solved, refusal) = await Solver.SolveAsync(StationCode.Parse(_draft!.Station), _asked, _seconds, new Progress<PlanProgress>(step => _ = InvokeAsync(() => { _steps.Add(step); StateHasChanged(); })), _solving.Token);
            (_solved, _trouble) = (solved ?? _solved, refusal?.Words);
        }
        finally
        {
            _solving.Dispose();
            _solving = null;
        }
    }

    private Task GiveUp() => _solving?.CancelAsync() ?? Task.CompletedTask;

    private async Task GiveAsync()
    {
        var id = NewId.At(Clock.GetCurrentInstant());
        var request = new GiveShiftPlanRequest(id, _asked!, [.. _solved!.Content.Items.Select(item => new AssignedItem(item.Defect, item.Person, item.Start))]);
        var answer = await Giving.HandleAsync(new Call(_actor!, id, _given is { } given && given.From == _asked!.From ? given.Version : Call.SawNone), _draft!.Station, request, Stop);
        (_trouble, _done) = (answer.Trouble, (answer as Answer.Done)?.Words);
        if (answer is Answer.Done)
        {
            _solved = null;
        }

        await ReadAsync();
    }

    /// <summary>Dropped on somebody: it is pinned to them, and planned again with the rest as it is; a plan in the making is begun anew.</summary>
    private async Task DropAsync(object? dropped)
    {
        if (dropped?.ToString()?.Split(' ') is not [var what, var whom] || !Guid.TryParse(what, out var item) || !Guid.TryParse(whom, out var person) || !_mayPlan)
        {
            return;
        }

        Wish(WishOf(item) with { PinnedTo = person });
        if (_solving is null)
        {
            await PlanAsync(_given is not null);
        }
        else
        {
            _wishesAsked = true;
            await GiveUp();
        }
    }

    private ItemWish WishOf(Guid item) => _wishes.GetValueOrDefault(item, new ItemWish(item));

    private void Wish(ItemWish wish) => _wishes[wish.Defect] = wish;

    private void There(Guid person, bool there)
    {
        if (there)
        {
            _there.Add(person);
        }
        else
        {
            _there.Remove(person);
        }
    }

    private async Task SetChanceAsync(object? value)
    {
        _chance = double.TryParse(value?.ToString(), CultureInfo.InvariantCulture, out var chance) ? chance : _chance;
        await ReadAsync();
    }

    private async Task Set(object? value, Action<Instant> take)
    {
        if (Wall.Parse(value?.ToString() ?? "").TryGetValue(default, out var local))
        {
            take(local.InZoneLeniently(DateTimeZoneProviders.Tzdb[_draft!.Zone]).ToInstant());
            _trouble = StationPlan.WhyNot(_from, _to)?.Words;
            await ReadAsync();
        }
    }

    private string Local(Instant at) => Wall.Format(at.InZone(DateTimeZoneProviders.Tzdb[_draft!.Zone]).LocalDateTime);

    private IEnumerable<string> Reasons(Guid item) => _draft!.Items.FirstOrDefault(one => one.Defect == item)?.Reasons ?? [];

    private string State(Guid item) => _solved is null && _given?.Progress.FirstOrDefault(one => one.Defect == item) is { } progress ? $" · {progress.State.ToLowerInvariant()}{(progress.HeldBy is { } holder ? $", {holder} has it" : "")}" : "";

    private static string Px(Duration time) => TimeAxis.Px(time, PixelsAMinute);
}
