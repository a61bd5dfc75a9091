namespace Drainboard.Domain.Defects;

/// <summary>How states, endings and answers are said to people.</summary>
public static class DefectWords
{
    public static string Words(this DefectState state) => state switch
    {
        DefectState.Reported => "reported",
        DefectState.Open => "open",
        DefectState.Deferred => "deferred",
        DefectState.WorkDone => "work done, not released",
        DefectState.Closed => "closed",
    };

    public static string Words(this Closure closure) => closure switch
    {
        Closure.Rectified => "rectified",
        Closure.NoFaultFound => "no fault found",
        Closure.SameDefect => "same defect as another",
        Closure.EnteredInError => "entered in error",
    };

    public static string Words(this LeakAnswer answer) => answer switch
    {
        LeakAnswer.DidNotLook => "Nobody has looked for a leak",
        LeakAnswer.NoneSeen => "Looked: no leak",
        LeakAnswer.Leaking => "Leaking",
    };

    public static string Words(this FlightPhase phase) => phase switch
    {
        FlightPhase.NotSaid => "not said",
        FlightPhase.OnGround => "on the ground",
        FlightPhase.InFlight => "in flight",
    };
}
