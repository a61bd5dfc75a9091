namespace Drainboard.Web.Features.Items;

/// <summary>A form with one thing to write.</summary>
public sealed class WordsInput : ItemInput
{
    public string? Words { get; set; }
}
