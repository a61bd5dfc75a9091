using System.Globalization;
using Drainboard.Domain;
using Drainboard.Domain.Accounts;
using Drainboard.Domain.Defects;
using Drainboard.Domain.Network;
using Drainboard.Planning;
using Drainboard.Web.Features.Accounts;
using Drainboard.Web.Features.Door;
using Drainboard.Web.Features.Fleet;
using Drainboard.Web.Shell;
using Microsoft.AspNetCore.Components;
using NodaTime;

namespace Drainboard.Web.Features.Network;

/// <summary>Control plans which stay takes which carried item, asks what if, and gives the plan out.</summary>
public sealed partial class NetworkPage
{
    private const int Page = 50;
    private const int StaysShown = 4;

    private readonly Dictionary<Guid, NetworkItemView> _items = [];
    private IReadOnlyList<StationView> _stations = [];
    private IReadOnlyList<string> _tails = [];
    private Dictionary<Guid, Guid> _planned = [];
    private NetworkWish _wish = new();
    private NetworkWish? _asked;
    private NetworkDraft? _draft;
    private FleetPlanView? _given;
    private SolvedNetwork? _solved;
    private NetworkProgress? _step;
    private CancellationTokenSource? _solving;
    private Actor? _actor;
    private bool _mayPlan;
    private long? _seen;
    private int _days = 7;
    private int _seconds = 5;
    private int _show = Page;
    private int _minutes = 240;
    private string? _minutesAt;
    private string? _one;
    private string? _other;
    private string? _trouble;
    private string? _done;

    [Inject] public required NetworkQuery Query { get; init; }

    [Inject] public required NetworkSolver Solver { get; init; }

    [Inject] public required GiveNetworkPlanHandler Giving { get; init; }

    [Inject] public required StationsQuery Stations { get; init; }

    [Inject] public required TailsQuery Tails { get; init; }

    [Inject] public required CurrentActor Current { get; init; }

    [Inject] public required IClock Clock { get; init; }

    private FleetPlanContent? Shown => _solved?.Content ?? _given?.Content;

    protected override async Task OnInitializedAsync()
    {
        (_stations, _actor) = (await Stations.ReadAsync(Stop), await Current.FindAsync(Stop));
        _tails = [.. (await Tails.ReadAsync(Stop)).Select(tail => tail.Registration)];
        _mayPlan = _actor is not null && Permissions.WhyNot(_actor, Act.PlanNetwork) is null;
        await ReadAsync();
    }

    protected override async Task ReadAsync()
    {
        (_draft, _) = await Query.DraftAsync(new NetworkWish(_days), Stop);
        _given = await Query.CurrentAsync(Stop);
        foreach (var open in _items.Keys.ToArray())
        {
            _items[open] = await Query.ItemAsync(new DefectId(open), _days, Stop) ?? _items[open];
        }

        Mark();
    }

    private async Task PlanAsync(bool keep)
    {
        if (_solving is not null)
        {
            return;
        }

        (_trouble, _done, _step) = (null, null, null);
        var (wish, seen) = (_wish with { Days = _days, KeepPlan = keep }, _given?.Version);
        using var solving = _solving = CancellationTokenSource.CreateLinkedTokenSource(Stop);
        try
        {
            var (solved, refusal) = await Solver.SolveAsync(wish, _seconds, new Progress<NetworkProgress>(step => _ = InvokeAsync(() => { _step = step; StateHasChanged(); })), solving.Token);
            _trouble = refusal?.Words;
            if (solved is not null)
            {
                (_solved, _asked, _seen) = (solved, wish, seen);
            }

            Mark();
        }
        finally
        {
            _solving = null;
        }
    }

    /// <summary>Where the aircraft is in the stay that was planned.</summary>
    private static string When(FleetPlanItem item, Instant now) => item.DepartsAt <= now ? $"was {Times.Near(item.ArrivesAt, item.Zone, now)}" : item.ArrivesAt <= now ? "now" : Times.Near(item.ArrivesAt, item.Zone, now);

    private Task GiveUp() => _solving?.CancelAsync() ?? Task.CompletedTask;

    private async Task GiveAsync()
    {
        var id = NewId.At(Clock.GetCurrentInstant());
        var answer = await Giving.HandleAsync(new Call(_actor!, id, _seen ?? Call.SawNone), new GiveNetworkPlanRequest(id, _asked!, [.. _solved!.Content.Items.Select(item => new PlannedFor(item.Defect, item.Turn))]), Stop);
        (_trouble, _done) = (answer.Trouble, (answer as Answer.Done)?.Words);
        if (answer is Answer.Done)
        {
            _solved = null;
        }

        await ReadAsync();
    }

    private async Task OpenAsync(Guid defect)
    {
        if (await Query.ItemAsync(new DefectId(defect), _days, Stop) is { } item)
        {
            _items[defect] = item;
        }
    }

    private async Task SetDaysAsync(ChangeEventArgs change)
    {
        _days = int.TryParse(change.Value?.ToString(), CultureInfo.InvariantCulture, out var days) ? days : _days;
        await ReadAsync();
    }

    private void Ask(NetworkWish wish) => _wish = wish;

    private void SetMinutes(string? station, int minutes)
    {
        (_minutesAt, _minutes) = (station, minutes);
        Ask(_wish with { Minutes = station is null ? null : [new StationMinutes(station, minutes)] });
    }

    private void SetSwap(string? one, string? other)
    {
        (_one, _other) = (one, other);
        Ask(_wish with { Swap = one is not null && other is not null ? new SwappedTails(one, other) : null });
    }

    private void Mark() => _planned = Shown?.Items.ToDictionary(item => item.Defect, item => item.Turn) ?? [];

    private bool IsPlanned(Guid defect, Guid turn) => _planned.GetValueOrDefault(defect) == turn;

    private Instant? DueOf(Guid defect) => _draft!.Lines.FirstOrDefault(line => line.Defect == defect)?.DueAt;

    private string State(Guid defect) => _solved is not null ? "" : _given?.Progress.FirstOrDefault(one => one.Defect == defect)?.State switch
    {
        PlannedState.Done => " · no longer carried",
        PlannedState.Missed => " · that stay is over, still carried",
        _ => "",
    };

    private static string Count(NetworkDraft draft, NetworkStanding standing, string words, NetworkDraft until) =>
        $"{Number(draft, standing)} {words} {Times.Number((int)Math.Round((until.Until - until.Now).TotalDays))} {((until.Until - until.Now).TotalDays > 1.5 ? "days" : "day")}. ";

    private static string Number(NetworkDraft draft, NetworkStanding standing) => Times.Capital(Times.Number(draft.Lines.Count(line => line.Standing == standing)));

    private static string Standing(NetworkLine line, Instant now) => line.Standing switch
    {
        NetworkStanding.Lapsed => "lapsed",
        NetworkStanding.Stranded => "no stay can take it in time",
        NetworkStanding.NoEnd => "no end",
        NetworkStanding.AwaitsRelease => "done, not released",
        _ when line.Last is null => $"{Times.Left(line.DueAt!.Value - now)} left, its stays are not planned that far",
        _ => $"{Times.Left(line.DueAt!.Value - now)} left, last {line.Last!.Station} {Times.Near(line.Last.ArrivesAt, line.Last.Zone, now)}",
    };

    private static string Names(IReadOnlyList<FleetPlanLate> late) => string.Join(", ", late.Take(5).Select(one => $"{one.Tail} {one.Fixture}")) + (late.Count > 5 ? $" and {late.Count - 5} more" : "");

    private static string? Chosen(ChangeEventArgs change) => change.Value?.ToString() is { Length: > 0 } text ? text : null;
}
