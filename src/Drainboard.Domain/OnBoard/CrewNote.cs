using NodaTime;

namespace Drainboard.Domain.OnBoard;

/// <summary>What the engineer tells the crew about one part of the cabin of a layout, above all what must not go down its drains.</summary>
public sealed class CrewNote
{
    public const int LongestWords = 400;

    private CrewNote()
    {
    }

    public CrewNote(string layout, string area) => (Layout, Area) = (layout, area);

    /// <summary>The layout's code: a note outlives a version of the drawing.</summary>
    public string Layout { get; private set; } = "";

    public string Area { get; private set; } = "";

    /// <summary>Empty: nothing in particular.</summary>
    public string Words { get; private set; } = "";

    public string ByName { get; private set; } = "";

    public Instant At { get; private set; }

    public long Version { get; private set; }

    public Refusal? Write(string words, string by, Instant now)
    {
        if (words.Trim().Length > LongestWords)
        {
            return new Refusal("too-long", $"The note has {words.Trim().Length} characters; {LongestWords} fit. Crew read it standing.");
        }

        (Words, ByName, At) = (words.Trim(), by, now);
        return null;
    }
}
