using Drainboard.Domain.Reliability;

namespace Drainboard.Web.Features.Reliability;

/// <summary>The one honest line for the technician at the fixture.</summary>
internal static class RepeatLine
{
    private const int FewestWriteUps = 2;

    public static string? Of(int writeUps, int inDays, Standing? standing, IReadOnlyList<TriedView> tried)
    {
        if (writeUps < FewestWriteUps)
        {
            return null;
        }

        var parts = new List<string> { $"{writeUps} write-ups of this kind in {inDays} days" };
        if (standing is { IsFlagged: true })
        {
            parts.Add(StandingWords.Against(standing));
        }

        if (tried.Count > 0)
        {
            parts.Add($"last fix: {char.ToLowerInvariant(tried[0].Words[0])}{tried[0].Words[1..]}");
        }

        return string.Join("; ", parts) + ".";
    }
}
