namespace Drainboard.Domain.Defects;

/// <summary>Where the aircraft was when it was seen: slow aloft and fine on the ground points elsewhere than the strainer.</summary>
public enum FlightPhase
{
    NotSaid,
    OnGround,
    InFlight,
}
