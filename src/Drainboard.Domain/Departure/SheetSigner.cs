namespace Drainboard.Domain.Departure;

/// <summary>Who acknowledges a departure sheet: both know what is carried before the aircraft leaves (14 CFR 121.628(a): records identifying inoperable items are available to the pilot).</summary>
public enum SheetSigner
{
    PilotInCommand,
    SeniorCrewMember,
}
