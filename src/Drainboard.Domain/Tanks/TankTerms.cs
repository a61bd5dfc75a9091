namespace Drainboard.Domain.Tanks;

/// <summary>
/// What a balance of water and waste begins with, before a tail's own services say better. No measured set per passenger is published openly: every
/// number is weak and the operator's to change. A rinse of 0.24 L: EP 1 057 943 A2; 1.26 L of potable water a passenger as a design allowance: Kundu, Aircraft Design; the rest is our choice.
/// </summary>
public sealed record TankTerms
{
    public static TankTerms Usual { get; } = new();

    /// <summary>Litres of potable water used by one passenger in an hour: about 0.2 lies between a short sector's rinse, coffee and hands and a long one's.</summary>
    public double PotablePerPassengerHour { get; init; } = 0.2;

    /// <summary>Litres at one draw, and how much that varies.</summary>
    public double PotablePerDraw { get; init; } = 0.25;

    public double PotablePerDrawSd { get; init; } = 0.15;

    /// <summary>Litres into the waste tank from one passenger's toilet uses in an hour: 0.22 uses of 0.49 L.</summary>
    public double WastePerPassengerHour { get; init; } = 0.107;

    /// <summary>Litres of one use with its rinse (reference set 16).</summary>
    public double WastePerUse { get; init; } = 0.4866;

    public double WastePerUseSd { get; init; } = 0.1;

    /// <summary>The share of potable water that toilets take to rinse.</summary>
    public double RinseShare { get; init; } = 0.3;

    /// <summary>The share of potable water that goes down sinks and basins: into the waste tank where a layout has no masts.</summary>
    public double GreyShare { get; init; } = 0.5;

    /// <summary>Seats taken, 0 to 1: flights do not tell their passengers.</summary>
    public double SeatsTaken { get; init; } = 0.85;

    /// <summary>Passenger hours that these values count for against a tail's own services.</summary>
    public double Worth { get; init; } = 500;

    /// <summary>Service is advised before a sector on which running out, or being full, is likelier than this.</summary>
    public double Risk { get; init; } = 0.1;

    /// <summary>Why these cannot be gone by, or null.</summary>
    public Refusal? WhyNot() =>
        !(PotablePerPassengerHour is > 0 and <= 20) || !(WastePerPassengerHour is > 0 and <= 20) ? new Refusal("litres-an-hour", "Litres of a passenger in an hour are above 0, up to 20.")
        : !(PotablePerDraw is >= 0.01 and <= 20) || !(WastePerUse is >= 0.01 and <= 20) ? new Refusal("litres-a-draw", "Litres of one draw or use are 0.01 to 20.")
        : !(PotablePerDrawSd is >= 0 and <= 20) || !(WastePerUseSd is >= 0 and <= 20) ? new Refusal("litres-spread", "How much a draw or use varies is 0 to 20 L.")
        : !(RinseShare is >= 0 and <= 1) || !(GreyShare is >= 0 and <= 1) || !(RinseShare + GreyShare <= 1) ? new Refusal("shares", "Rinse and grey water are each 0 to 1 of the potable water, and together no more than all of it.")
        : !(SeatsTaken is > 0 and <= 1) ? new Refusal("seats-taken", "Seats taken are above 0, up to 1.")
        : !(Worth is >= 1 and <= 1_000_000) ? new Refusal("worth", "The values count for 1 to 1000000 passenger hours.")
        : !(Risk is > 0 and < 0.5) ? new Refusal("risk", "The risk is above 0 and below 0.5.")
        : null;
}
