using Microsoft.AspNetCore.Components;

namespace Drainboard.Web.Features.Deferrals;

/// <summary>Every running clock, of now.</summary>
public sealed partial class ClocksPage
{
    private ClocksView? _clocks;

    [Inject] public required ClocksQuery Query { get; init; }

    protected override Task OnInitializedAsync() => ReadAsync();

    protected override async Task ReadAsync() => _clocks = await Query.ReadAsync(Stop);
}
