namespace Drainboard.Domain.Isolation;

/// <summary>Where toilets of a tank fail to flush.</summary>
public enum VacuumRegime
{
    NotSaid,

    /// <summary>On the ground and low down; in the cruise they flush.</summary>
    LowOnly,

    /// <summary>In the cruise too.</summary>
    InTheCruise,
}
