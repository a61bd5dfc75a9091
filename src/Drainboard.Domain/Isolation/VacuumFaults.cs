using Drainboard.Domain.Fleet;

namespace Drainboard.Domain.Isolation;

/// <summary>The words, shares and minutes of the vacuum faults. Common practice, no source, from memory.</summary>
public static class VacuumFaults
{
    public static string Words(this VacuumFault fault) => fault switch
    {
        VacuumFault.ForeignObject => "object in the outlet",
        VacuumFault.Controller => "flush controller or switch",
        VacuumFault.FlushValve => "flush valve",
        VacuumFault.Rinse => "rinse",
        VacuumFault.NothingFound => "nothing found: a reset cures it",
        VacuumFault.Line => "waste line blocked",
        VacuumFault.TankFull => "tank truly full",
        VacuumFault.FalseFull => "level sensor says full and it is not",
        VacuumFault.ServiceValve => "service valve not seated",
        VacuumFault.Generator => "vacuum generator",
    };

    /// <summary>Of one toilet that does not flush, or of all toilets of one tank, so many in a hundred.</summary>
    public static double Share(this VacuumFault fault) => fault switch
    {
        VacuumFault.ForeignObject => 0.30,
        VacuumFault.Controller => 0.25,
        VacuumFault.FlushValve => 0.15,
        VacuumFault.NothingFound => 0.15,
        VacuumFault.Rinse => 0.08,
        VacuumFault.Line => 0.07,
        VacuumFault.TankFull => 0.35,
        VacuumFault.FalseFull => 0.25,
        VacuumFault.Generator => 0.25,
        VacuumFault.ServiceValve => 0.10,
    };

    /// <summary>Likely minutes to look and put right.</summary>
    public static double Minutes(this VacuumFault fault) => fault switch
    {
        VacuumFault.ForeignObject => 15,
        VacuumFault.Controller => 25,
        VacuumFault.FlushValve => 55,
        VacuumFault.NothingFound => 6,
        VacuumFault.Rinse => 30,
        VacuumFault.Line => 90,
        VacuumFault.TankFull => 12,
        VacuumFault.FalseFull => 45,
        VacuumFault.ServiceValve => 12,
        VacuumFault.Generator => 100,
    };

    /// <summary>What to guard against at this step.</summary>
    public static string Caution(this VacuumFault fault) => fault switch
    {
        VacuumFault.Controller => "Power off the toilet before its controller is touched.",
        VacuumFault.Generator => "Power off and tag the generator; let it stop.",
        VacuumFault.TankFull or VacuumFault.ServiceValve => "Gloves, eye protection, face away from the service port; blue fluid.",
        VacuumFault.FalseFull => "The tank may be full all the same: look before you open.",
        VacuumFault.ForeignObject or VacuumFault.FlushValve or VacuumFault.Line => "Vacuum isolated before anything is opened. Gloves and eye protection; sharps may be in what you find.",
        VacuumFault.Rinse => "Potable side: clean hands and clean tools, before any waste work.",
        VacuumFault.NothingFound => "Reset it as the manual says; watch five flushes.",
    };

    internal static bool IsOfOneToilet(this VacuumFault fault) => fault is VacuumFault.ForeignObject or VacuumFault.Controller or VacuumFault.FlushValve or VacuumFault.Rinse or VacuumFault.NothingFound;
}
