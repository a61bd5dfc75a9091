namespace Drainboard.Domain.Isolation;

/// <summary>What a pour at a fixture showed. A fixture that nobody poured into has no result: untested is not fine.</summary>
public enum PourResult
{
    Ok,
    Slow,
}
