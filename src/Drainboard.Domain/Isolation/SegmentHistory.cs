namespace Drainboard.Domain.Isolation;

/// <summary>What this fleet has found at one place of its layout, and when this tail's was opened last.</summary>
/// <param name="FoundHere">Released work on a slow drain that found the blockage here.</param>
/// <param name="WriteUps">Released work on slow drains whose water passes here.</param>
/// <param name="DaysSinceOpened">Null when it is not known.</param>
/// <param name="OwnMinutes">Median hands-on minutes of this fleet's work here or at like places, and on how many it rests; null with too few.</param>
public sealed record SegmentHistory(int FoundHere, int WriteUps, double? DaysSinceOpened, (double Minutes, int Of)? OwnMinutes)
{
    public static SegmentHistory None { get; } = new(0, 0, null, null);
}
