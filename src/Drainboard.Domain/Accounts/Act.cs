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
    EndDeferral,
    RecordWork,
    RecordChecks,
    ReturnWork,
    Release,
    CloseInError,
    Correct,
    ChangeTurns,
    Import,
    ManagePeople,
    ManageKeys,
    ChangeInstallation,
    VerifyRecord,
}
