using Drainboard.Domain.Fleet;
using static Drainboard.Domain.Accounts.Role;

namespace Drainboard.Domain.Accounts;

/// <summary>
/// The one table of who may do what. Pages show and hide by it, handlers refuse by it, and a generated test asks every
/// endpoint for every role at an own and at another station. Only authorised certifying staff decide what may be deferred
/// (M.A.403(b)) and release (145.A.50), a contract technician under their own organisation's approval; the rest of the split is common practice, no source.
/// </summary>
public static class Permissions
{
    private static readonly Role[] Everyone = Enum.GetValues<Role>();

    public static IReadOnlyList<Permission> Table { get; } =
    [
        new(Act.Look, ApiScope.Read, false, Everyone),
        new(Act.Compute, ApiScope.Compute, false, Everyone),
        new(Act.Follow, ApiScope.SetUp, false, Everyone),
        new(Act.SetPassword, ApiScope.Sign, false, Everyone),
        new(Act.SetSigningCode, ApiScope.Sign, false, Everyone),
        new(Act.SetPin, ApiScope.Sign, false, Everyone),
        new(Act.Report, ApiScope.Report, false, [CabinCrew, Technician, CertifyingTechnician, ContractTechnician, ShiftLead, MaintenanceController, Pilot]),
        new(Act.Sort, ApiScope.Work, true, [Technician, CertifyingTechnician, ContractTechnician, ShiftLead, MaintenanceController]),
        new(Act.Merge, ApiScope.Work, true, [Technician, CertifyingTechnician, ContractTechnician, ShiftLead, MaintenanceController]),
        new(Act.AnswerLeak, ApiScope.Work, true, [Technician, CertifyingTechnician, ContractTechnician]),
        new(Act.ProposeDeferral, ApiScope.Defer, true, [Technician, CertifyingTechnician, ContractTechnician]),
        new(Act.PrepareDeferral, ApiScope.Defer, true, [Technician, CertifyingTechnician, ContractTechnician]),
        new(Act.AuthoriseDeferral, ApiScope.Defer, false, [MaintenanceController]),
        new(Act.CertifyDeferral, ApiScope.Sign, true, [CertifyingTechnician, ContractTechnician]),
        new(Act.ExtendDeferral, ApiScope.Defer, false, [MaintenanceController]),
        new(Act.RecordNotice, ApiScope.Defer, false, [MaintenanceController]),
        new(Act.DoCondition, ApiScope.Work, true, [CabinCrew, Technician, CertifyingTechnician, ContractTechnician, Pilot]),
        new(Act.EndDeferral, ApiScope.Defer, false, [CertifyingTechnician, MaintenanceController]),
        new(Act.TakeItem, ApiScope.Work, true, [Technician, CertifyingTechnician, ContractTechnician]),
        new(Act.DoJob, ApiScope.Work, true, [Technician, CertifyingTechnician, ContractTechnician]),
        new(Act.InspectStep, ApiScope.Sign, true, [Technician, CertifyingTechnician, ContractTechnician]),
        new(Act.NoteDisturbed, ApiScope.Work, true, [Technician, CertifyingTechnician, ContractTechnician]),
        new(Act.NotePart, ApiScope.Work, true, [Technician, CertifyingTechnician, ContractTechnician, ShiftLead]),
        new(Act.RecordWork, ApiScope.Work, true, [Technician, CertifyingTechnician, ContractTechnician]),
        new(Act.RecordChecks, ApiScope.Work, true, [Technician, CertifyingTechnician, ContractTechnician]),
        new(Act.RecordPour, ApiScope.Work, true, [Technician, CertifyingTechnician, ContractTechnician]),
        new(Act.WithdrawPour, ApiScope.Work, false, [Technician, CertifyingTechnician, ContractTechnician]),
        new(Act.ReturnWork, ApiScope.Sign, true, [CertifyingTechnician, ContractTechnician]),
        new(Act.Release, ApiScope.Sign, true, [CertifyingTechnician, ContractTechnician]),
        new(Act.CloseInError, ApiScope.Work, true, [CertifyingTechnician, ShiftLead, MaintenanceController]),
        new(Act.Correct, ApiScope.Work, true, [Technician, CertifyingTechnician, ContractTechnician, ShiftLead, MaintenanceController]),
        new(Act.AcknowledgeSheet, ApiScope.Report, true, [CabinCrew, Pilot]),
        new(Act.HandOver, ApiScope.Sign, true, [CertifyingTechnician, ShiftLead]),
        new(Act.PlanShift, ApiScope.Work, false, [ShiftLead, MaintenanceController]),
        new(Act.PlanNetwork, ApiScope.Work, false, [MaintenanceController]),
        new(Act.ChangeTurns, ApiScope.SetUp, true, [ShiftLead, MaintenanceController, Administrator]),
        new(Act.ChangeSectors, ApiScope.SetUp, false, [MaintenanceController, Administrator]),
        new(Act.Import, ApiScope.SetUp, false, [Administrator]),
        new(Act.ManagePeople, ApiScope.SetUp, false, [Administrator]),
        new(Act.ManageKeys, ApiScope.SetUp, false, [Administrator]),
        new(Act.ManageDevices, ApiScope.SetUp, false, [Administrator]),
        new(Act.NoteForCrew, ApiScope.SetUp, false, [MaintenanceController, ReliabilityEngineer, Administrator]),
        new(Act.ChangeInstallation, ApiScope.SetUp, false, [Administrator]),
        new(Act.ManagePolicies, ApiScope.SetUp, false, [Administrator]),
        new(Act.ManageLayouts, ApiScope.SetUp, false, [Administrator]),
        new(Act.ManageCards, ApiScope.SetUp, false, [Administrator]),
        new(Act.ChangeAdvice, ApiScope.SetUp, false, [Administrator]),
        new(Act.ChangeFit, ApiScope.SetUp, false, [Administrator]),
        new(Act.ChangeWaiting, ApiScope.SetUp, false, [Administrator]),
        new(Act.WorkOnWater, ApiScope.Work, true, [Technician, CertifyingTechnician, ContractTechnician, ShiftLead, MaintenanceController]),
        new(Act.JudgeWater, ApiScope.Defer, false, [MaintenanceController, ReliabilityEngineer]),
        new(Act.LiftWater, ApiScope.Sign, false, [CertifyingTechnician, MaintenanceController]),
        new(Act.ManageWater, ApiScope.SetUp, false, [ReliabilityEngineer, Administrator]),
        new(Act.RecordServicing, ApiScope.Work, true, [Technician, CertifyingTechnician, ContractTechnician, ShiftLead]),
        new(Act.DoCheck, ApiScope.Work, true, [Technician, CertifyingTechnician, ContractTechnician, ShiftLead]),
        new(Act.TellTemperature, ApiScope.Work, true, [Technician, CertifyingTechnician, ContractTechnician, ShiftLead, MaintenanceController]),
        new(Act.ManageChecks, ApiScope.SetUp, false, [ReliabilityEngineer, Administrator]),
        new(Act.ChangeTanks, ApiScope.SetUp, false, [Administrator]),
        new(Act.WorkOutStandings, ApiScope.Compute, false, [MaintenanceController, ReliabilityEngineer, Administrator]),
        new(Act.VerifyRecord, ApiScope.Read, false, [CertifyingTechnician, MaintenanceController, ReliabilityEngineer, Administrator]),
    ];

    private static readonly Dictionary<Act, Permission> ByAct = Table.ToDictionary(row => row.Act);

    public static Permission For(Act act) => ByAct[act];

    /// <summary>Whether the person may do this somewhere: by role and, for an API key, by its scope.</summary>
    public static Refusal? WhyNot(Actor actor, Act act)
    {
        var row = For(act);
        if (actor.NeedsPasskey && act != Act.SetPassword)
        {
            return new Refusal("passkey-needed", "Your role signs in with a passkey. Add one on the page with your name (Me), sign out, and sign in with it.");
        }

        if (actor.KeyScopes is { } scopes && !scopes.Contains(row.Scope))
        {
            return new Refusal("key-scope", actor.Device is null ? $"This API key does not carry the scope \"{row.Scope}\". Ask an administrator for a key that does." : "A PIN at a shared device opens looking and reporting only. Sign in with your password for this.");
        }

        return row.Roles.Any(actor.Roles.Contains)
            ? null
            : new Refusal("not-your-role", $"This is for: {string.Join(", ", row.Roles.Select(role => role.Words()))}. Your account ({actor.Name}) has: {RolesOf(actor)}.");
    }

    /// <summary>As <see cref="WhyNot(Actor, Act)"/>, for one aircraft at the stations where it can be reached now.</summary>
    public static Refusal? WhyNot(Actor actor, Act act, Registration tail, IReadOnlyCollection<StationCode> reachableAt)
    {
        if (WhyNot(actor, act) is { } refusal)
        {
            return refusal;
        }

        if (actor.OnlyTail is { } only && only != tail)
        {
            return new Refusal("not-your-tail", $"Your access is for {only} only; this is {tail}.");
        }

        if (!For(act).AtOwnStation || reachableAt.Count == 0 || reachableAt.Any(actor.Stations.Covers))
        {
            return null;
        }

        return new Refusal("not-your-station", $"{tail} is at {string.Join(" or ", reachableAt)}; your account covers {actor.Stations}. The station that has the aircraft does this.");
    }

    private static string RolesOf(Actor actor) =>
        actor.Roles.Count == 0 ? "no role yet" : string.Join(", ", actor.Roles.Order().Select(role => role.Words()));
}
