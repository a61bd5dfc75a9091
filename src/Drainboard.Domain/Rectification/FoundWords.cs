namespace Drainboard.Domain.Rectification;

/// <summary>The words of a <see cref="Found"/>.</summary>
public static class FoundWords
{
    public static string Words(this Found found) => found switch
    {
        Found.Grounds => "Coffee grounds",
        Found.Food => "Food",
        Found.Fat => "Milk and fat",
        Found.Packaging => "Packaging",
        Found.HairAndSoap => "Hair and soap",
        Found.Paper => "Paper",
        Found.Ice => "Ice",
        Found.Scale => "Scale",
        Found.ForeignObject => "Foreign object",
        Found.FailedPart => "Failed part",
        Found.Nothing => "Nothing found",
    };
}
