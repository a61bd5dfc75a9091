namespace Drainboard.Domain.Defects;

/// <summary>What a person sees. A leak is asked for apart from it: a leak is never just a slow drain.</summary>
public enum Symptom
{
    DrainsSlowly,
    DoesNotDrain,
    BacksUp,
    Overflows,
    WillNotStop,
    NoWater,
    Discoloured,
    Smell,
    DoesNotFlush,
    Insects,
    Leaks,
    Other,
}
