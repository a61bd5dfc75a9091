namespace Drainboard.Domain.Cards;

/// <summary>What was put out of its usual state for the work, or carried in for it.</summary>
public enum DisturbedKind
{
    Breaker,
    Valve,
    Panel,
    Tag,
    Cap,
    Cloth,
    Tool,
    Other,
}

public static class DisturbedKinds
{
    public static string Words(this DisturbedKind kind) => kind switch
    {
        DisturbedKind.Breaker => "Breaker",
        DisturbedKind.Valve => "Valve",
        DisturbedKind.Panel => "Panel",
        DisturbedKind.Tag => "Tag",
        DisturbedKind.Cap => "Cap or joint",
        DisturbedKind.Cloth => "Cloth or tray",
        DisturbedKind.Tool => "Tool",
        DisturbedKind.Other => "Something else",
    };

    /// <summary>How its usual state is said.</summary>
    public static string RestoredWords(this DisturbedKind kind) => kind switch
    {
        DisturbedKind.Breaker => "Closed again",
        DisturbedKind.Valve => "Back as it was",
        DisturbedKind.Panel => "Refitted",
        DisturbedKind.Tag => "Removed",
        DisturbedKind.Cap => "Closed again",
        DisturbedKind.Cloth or DisturbedKind.Tool => "Taken out",
        DisturbedKind.Other => "Restored",
    };
}
