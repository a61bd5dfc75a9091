namespace Drainboard.Domain.OnBoard;

/// <summary>Whether crew may go on using a fixture, as far as is known here.</summary>
public enum FixtureUse
{
    Usable,
    WithCare,
    AsPlacarded,
    DoNotUse,
}
