namespace Drainboard.Domain.Accounts;

/// <summary>Everything that can be asked of the program. Who may is in <see cref="Permissions"/>; what a defect's state allows is in its lifecycle.</summary>
public enum Act
{
    Look,
    Compute,
    Report,
    Sort,
    Merge,
    AnswerLeak,
    ProposeDeferral,
    PrepareDeferral,
    AuthoriseDeferral,
    CertifyDeferral,
    ExtendDeferral,
    RecordNotice,
    DoCondition,
    EndDeferral,
    RecordWork,
    RecordChecks,
    ReturnWork,
    Release,
    CloseInError,
    Correct,
    ChangeTurns,
    ChangeSectors,
    Import,
    ManagePeople,
    ManageKeys,
    ChangeInstallation,
    ManagePolicies,
    VerifyRecord,
}
