namespace Drainboard.Domain.Pours;

/// <summary>
/// What was timed: a known volume from jug to empty, or the level from one mark to another (millimetres above the drain). Two times
/// are comparable only when their measures are equal: then geometry cancels.
/// </summary>
public sealed record PourMeasure(int? Millilitres, int? FromMillimetres, int? ToMillimetres)
{
    public static PourMeasure Volume(int millilitres) => new(millilitres, null, null);

    public static PourMeasure Marks(int from, int to) => new(null, from, to);

    public string Words => Millilitres is { } volume ? $"{volume / 1000m:0.##} litres" : $"from the mark at {FromMillimetres} mm to {ToMillimetres} mm";

    /// <summary>Why this cannot be timed: 100 ml to 20 litres, or marks from 500 mm down to the drain, the upper one first.</summary>
    public Refusal? WhyNot() =>
        Millilitres is null == (FromMillimetres is null && ToMillimetres is null)
            ? new Refusal("measure", "Say what you timed: a known volume, or from one mark to another. One of the two.")
        : Millilitres is < 100 or > 20_000
            ? new Refusal("volume", "A pour is 0.1 to 20 litres.")
        : Millilitres is null && (FromMillimetres is not (> 0 and <= 500) || ToMillimetres is not >= 0 || ToMillimetres >= FromMillimetres)
            ? new Refusal("marks", "Marks are millimetres above the drain, up to 500: the upper one first, the lower one below it.")
        : null;
}
