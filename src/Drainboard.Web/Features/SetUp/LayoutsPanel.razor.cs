using System.Text.Json;
using Drainboard.Domain;
using Drainboard.Domain.Fleet;
using Drainboard.Domain.Plumbing;
using Drainboard.Web.Features.Accounts;
using Drainboard.Web.Features.Door;
using Drainboard.Web.Features.Fleet;
using Microsoft.AspNetCore.Components;
using NodaTime;
using LayoutView = Drainboard.Web.Features.Fleet.LayoutView;

namespace Drainboard.Web.Features.SetUp;

/// <summary>Draws a layout by table and picture. Every change is judged at once by the rules that judge the save.</summary>
public sealed partial class LayoutsPanel
{
    private IReadOnlyList<LayoutView> _layouts = [];
    private IReadOnlyList<string> _faults = [];
    private IReadOnlyList<Fixture> _views = [];
    private LayoutDraft? _draft;
    private FixtureDraft? _one;
    private string? _was;
    private PlumbingBranch? _branch;
    private PlumbingGraph? _graph;
    private Water _water = Water.Drainage;
    private Position? _around;
    private ElementReference _heading;
    private bool _opened;
    private bool _chosen;
    private bool _saving;
    private bool _leaving;
    private string _before = "";
    private ElementReference _form;
    private string? _trouble;
    private string? _done;

    [Inject] public required LayoutsQuery Query { get; set; }

    [Inject] public required SaveLayoutHandler Handler { get; set; }

    [Inject] public required CurrentActor Current { get; set; }

    [Inject] public required IClock Clock { get; set; }

    private bool IsChanged => _draft is { } draft && Text(draft) != _before;

    private static string Text(LayoutDraft draft) => JsonSerializer.Serialize((object)draft.ToRequest()) + draft.Code;

    private IEnumerable<LayoutView> Newest => _layouts.DistinctBy(layout => layout.Code);

    protected override async Task OnInitializedAsync() => _layouts = await Query.ReadAsync(CancellationToken.None);

    protected override async Task OnAfterRenderAsync(bool firstRender)
    {
        if (_opened)
        {
            _opened = false;
            await _heading.FocusAsync();
        }

        if (_chosen)
        {
            _chosen = false;
            await _form.FocusAsync();
        }
    }

    private void Open(LayoutView? layout)
    {
        if (IsChanged)
        {
            _leaving = true;
            return;
        }

        (_draft, _one, _around, _opened, _trouble, _done) = (LayoutDraft.Of(layout), null, null, true, null, null);
        _before = Text(_draft!);
        Check();
    }

    /// <summary>A drawing with changes is left only when that is said twice.</summary>
    private void Leave()
    {
        (_draft, _leaving) = IsChanged && !_leaving ? (_draft, true) : (null, false);
    }

    private void Add()
    {
        _draft!.Fixtures.Add(_one = new FixtureDraft());
        _chosen = true;
        Check();
    }

    private void Remove()
    {
        _draft!.Fixtures.Remove(_one!);
        _one = null;
        Check();
    }

    private void TakeOut(ClassDraft seats)
    {
        _draft!.Classes.Remove(seats);
        Check();
    }

    private void ChooseAt(string position)
    {
        if (_draft!.Fixtures.FirstOrDefault(line => line.Position.Trim().Equals(position, StringComparison.OrdinalIgnoreCase)) is { } line)
        {
            Choose(line);
        }
    }

    private void Choose(FixtureDraft line)
    {
        (_one, _was, _chosen) = (line, line.Position, true);
        if (_graph is { } graph && Position.TryParse(line.Position, out var at))
        {
            var way = _water == Water.Drainage ? graph.DrainPath(at) : graph.SupplyPath(at);
            Draw(_water, way.FirstOrDefault(node => graph.Around(node.Position, _water)!.Leaves > 1)?.Position ?? _around);
        }
    }

    /// <summary>A position that gets another code takes its pipes along.</summary>
    private void Renamed()
    {
        if (_one is { } one && _was is { Length: > 0 } was && one.Position.Trim().Length > 0)
        {
            _draft!.Rename(was, one.Position.Trim().ToUpperInvariant());
        }

        _was = _one?.Position;
        Check();
    }

    private void Check()
    {
        var request = _draft!.ToRequest();
        var (fixtures, connections, faults) = SaveLayoutHandler.Read(request.Fixtures, request.Connections);
        _faults = [.. faults, .. SaveLayoutHandler.ReadClasses(request).Faults];
        _graph = new PlumbingGraph(fixtures, connections);
        Draw(_water, _around);
    }

    private void Draw(Water water, Position? around)
    {
        _water = water;
        _views = _graph!.Views(water);
        _around = around is { } at && _graph.Around(at, water) is not null ? around : _views.Select(view => (Position?)view.Position).FirstOrDefault();
        _branch = _around is { } from ? _graph.Around(from, water) : null;
    }

    private async Task SaveAsync()
    {
        if (_saving || _draft is not { } draft)
        {
            return;
        }

        _saving = true;
        var answer = await Handler.HandleAsync(new Call(await Current.GetAsync(), NewId.At(Clock.GetCurrentInstant()), draft.SeenVersion == 0 ? Call.SawNone : draft.SeenVersion), draft.Code, draft.ToRequest(), CancellationToken.None);
        (_trouble, _saving) = (answer.Trouble, false);
        if (answer is Answer.Stale stale)
        {
            draft.SeenVersion = (int)stale.CurrentVersion;
            _trouble = $"Somebody saved version {stale.CurrentVersion} since you opened this. Your drawing is kept; saving it again makes it the version after that one.";
        }

        if (answer is Answer.Done done)
        {
            (_draft, _done, _leaving) = (null, done.Words, false);
            _layouts = await Query.ReadAsync(CancellationToken.None);
        }
    }
}
