namespace Drainboard.Domain.TurnFit;

/// <summary>Kinds of job by what is worked on, as far as their times differ.</summary>
public enum JobKind
{
    GalleyStrainer,
    BasinStrainer,
    Branch,
    Valve,
    DrainMast,
    Fitting,
    ToiletReset,
    ToiletObject,
    ToiletPart,
    WasteLine,
    LevelSensor,
    Generator,
    Brewer,
    Heater,
    NothingFound,
    Other,
}
