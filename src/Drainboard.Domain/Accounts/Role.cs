namespace Drainboard.Domain.Accounts;

/// <summary>What a person is, at work. One person may hold several; what each may do is in <see cref="Permissions"/>.</summary>
public enum Role
{
    CabinCrew,
    Technician,
    CertifyingTechnician,
    ShiftLead,
    MaintenanceController,
    Pilot,
    ContractTechnician,
    ReliabilityEngineer,
    Administrator,
}
