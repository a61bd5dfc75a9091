using Drainboard.Domain.Accounts;
using Drainboard.Domain.Defects;
using Drainboard.Domain.Fleet;
using Drainboard.Web.Features.Accounts;
using Microsoft.AspNetCore.Components;

namespace Drainboard.Web.Features.Reliability;

/// <summary>The newest snapshot, the worst first. What is shown of it is the page's address.</summary>
public sealed partial class RepeatsPage
{
    private const int Page = 50;

    private RepeatsView? _view;
    private RepeatsFilter _filter = new();
    private bool _mayWork;
    private string? _working;
    private string? _trouble;
    private CancellationTokenSource? _work;

    [SupplyParameterFromQuery] public string? Layout { get; set; }

    [SupplyParameterFromQuery] public string? Kind { get; set; }

    [SupplyParameterFromQuery] public string? Family { get; set; }

    [SupplyParameterFromQuery] public string? Scope { get; set; }

    [SupplyParameterFromQuery] public string? Tail { get; set; }

    [SupplyParameterFromQuery] public string? Flagged { get; set; }

    [SupplyParameterFromQuery] public int? Lines { get; set; }

    [Inject] public required RepeatsQuery Repeats { get; init; }

    [Inject] public required StandingsMaker Maker { get; init; }

    [Inject] public required CurrentActor Current { get; init; }

    [Inject] public required NavigationManager Navigation { get; init; }

    private int Show => Math.Clamp(Lines ?? Page, 1, RepeatsQuery.Most);

    protected override async Task OnParametersSetAsync()
    {
        _filter = RepeatsFilter.Of(Layout, Kind, Family, Scope, Tail, Flagged);
        _mayWork = await Current.FindAsync(Stop) is { } actor && Permissions.WhyNot(actor, Act.WorkOutStandings) is null;
        await ReadAsync();
    }

    protected override async Task ReadAsync() => _view = await Repeats.ReadAsync(_filter, Show, Stop);

    private async Task WorkAsync()
    {
        using var work = _work = CancellationTokenSource.CreateLinkedTokenSource(Stop);
        (_trouble, _working) = (null, "Beginning");
        try
        {
            // It may take seconds: the page stays free, and says how far it is.
            await Task.Run(() => Maker.RunAsync(new Progress<string>(words => _ = InvokeAsync(() => Say(words))), work.Token), work.Token);
            await ReadAsync();
        }
        catch (OperationCanceledException)
        {
            _trouble = "Given up. The snapshot from before stands.";
        }
        catch (System.Data.Common.DbException)
        {
            _trouble = "The data cannot be reached. The snapshot from before stands; try again.";
        }
        finally
        {
            (_work, _working) = (null, null);
        }
    }

    private void Say(string words)
    {
        if (_work is not null)
        {
            _working = words;
            StateHasChanged();
        }
    }

    private void GiveUp() => _work?.Cancel();

    private void Go(RepeatsFilter filter) => Navigation.NavigateTo(Address(filter));

    private static string Address(RepeatsFilter filter, int? lines = null) => "/repeats" + filter.Query(lines);
}
