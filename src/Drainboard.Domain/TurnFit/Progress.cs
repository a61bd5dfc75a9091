namespace Drainboard.Domain.TurnFit;

/// <summary>How far the work on an item has come.</summary>
/// <param name="IsDone">The work is done; what is left is what is not checked.</param>
/// <param name="Begun">Minutes since it was begun on; null where nobody has.</param>
/// <param name="StepsLeft">Of the card's steps that are no check, the part not ticked yet: 0 to 1; 1 without a card.</param>
/// <param name="Checked">Ops check and leak check are made.</param>
public sealed record Progress(bool IsDone, double? Begun, double StepsLeft, bool Checked)
{
    public static Progress None { get; } = new(false, null, 1, false);
}
