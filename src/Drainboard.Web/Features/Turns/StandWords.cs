namespace Drainboard.Web.Features.Turns;

/// <summary>A stand in words: who gives the stays need not know it.</summary>
internal static class StandWords
{
    public static string Of(string stand) => stand.Length > 0 ? $"stand {stand}" : "no stand given";
}
