namespace Drainboard.Domain.Accounts;

/// <summary>The words of a <see cref="Role"/> as people read them, and back.</summary>
public static class RoleWords
{
    public static string Words(this Role role) => role switch
    {
        Role.CabinCrew => "cabin crew",
        Role.Technician => "technician",
        Role.CertifyingTechnician => "certifying technician",
        Role.ShiftLead => "shift lead",
        Role.MaintenanceController => "maintenance controller",
        Role.Pilot => "pilot in command",
        Role.ContractTechnician => "contract technician",
        Role.ReliabilityEngineer => "reliability engineer",
        Role.Administrator => "administrator",
    };
}
