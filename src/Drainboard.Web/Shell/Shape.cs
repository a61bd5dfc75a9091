namespace Drainboard.Web.Shell;

/// <summary>The shapes that carry meaning, each always beside its word.</summary>
public enum Shape
{
    Open,
    Reported,
    Deferred,
    Repeat,
    Leak,
    Closed,
    NotReleased,
    Care,
}
