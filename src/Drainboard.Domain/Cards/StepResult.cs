namespace Drainboard.Domain.Cards;

/// <summary>How a step came out.</summary>
public enum StepResult
{
    /// <summary>Done, within limits, flows, dry.</summary>
    Good,

    /// <summary>Out of limits, does not flow, leaks.</summary>
    Bad,

    /// <summary>It does not apply here; the words say why.</summary>
    NotHere,
}
