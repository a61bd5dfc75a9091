using Drainboard.Domain.Reliability;

namespace Drainboard.Data.Reliability;

/// <summary>A standing as a row: a whole snapshot is written in bulk, which the model's own way of saving is too slow for.</summary>
internal static class StandingColumns
{
    public static readonly (string Name, Func<Standing, object?> Value)[] All =
    [
        (nameof(Standing.Snapshot), one => one.Snapshot),
        (nameof(Standing.Rank), one => one.Rank),
        (nameof(Standing.Scope), one => one.Scope.ToString()),
        (nameof(Standing.Tail), one => one.Tail?.Value),
        (nameof(Standing.Layout), one => one.Layout),
        (nameof(Standing.Position), one => one.Position.Value),
        (nameof(Standing.Kind), one => one.Kind.ToString()),
        (nameof(Standing.Family), one => one.Family?.ToString()),
        (nameof(Standing.Events), one => one.Events),
        (nameof(Standing.Exposure), one => one.Exposure),
        (nameof(Standing.Rate), one => one.Rate),
        (nameof(Standing.Low), one => one.Low),
        (nameof(Standing.High), one => one.High),
        (nameof(Standing.FleetRate), one => one.FleetRate),
        (nameof(Standing.Ratio), one => one.Ratio),
        (nameof(Standing.RatioLow), one => one.RatioLow),
        (nameof(Standing.PWorse), one => one.PWorse),
        (nameof(Standing.PAdjusted), one => one.PAdjusted),
        (nameof(Standing.PosteriorMean), one => one.PosteriorMean),
        (nameof(Standing.Posterior05), one => one.Posterior05),
        (nameof(Standing.IsFlagged), one => one.IsFlagged),
    ];

    public static string Names { get; } = string.Join(", ", All.Select(column => $"\"{column.Name}\""));
}
