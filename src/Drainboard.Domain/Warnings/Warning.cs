using Drainboard.Domain.Accounts;
using Drainboard.Domain.Defects;
using Drainboard.Domain.Deferrals;
using NodaTime;

namespace Drainboard.Domain.Warnings;

/// <summary>
/// One warning to one person: made once for each clock, lead and due time, or once for each report, however often it is looked for. A clock
/// that moves warns anew.
/// </summary>
public sealed class Warning
{
    private Warning()
    {
    }

    public Warning(Guid id, PersonId person, DefectId defect, DeferralId deferral, int leadHours, Instant dueAt, string words, bool byMail, Instant madeAt) =>
        (Id, Person, Defect, Deferral, LeadHours, DueAt, Words, ByMail, MadeAt) = (id, person, defect, deferral, leadHours, dueAt, words, byMail, madeAt);

    public Warning(Guid id, PersonId person, Report report, string words, bool byMail, Instant madeAt) =>
        (Id, Person, Defect, Report, DueAt, Words, ByMail, MadeAt) = (id, person, report.Defect, report.Id, report.ReceivedAt, words, byMail, madeAt);

    public Guid Id { get; private set; }

    public PersonId Person { get; private set; }

    public DefectId Defect { get; private set; }

    /// <summary>The clock it warns of; null where it tells of a report.</summary>
    public DeferralId? Deferral { get; private set; }

    public ReportId? Report { get; private set; }

    public int LeadHours { get; private set; }

    /// <summary>When the clock lapses, or when the report came in.</summary>
    public Instant DueAt { get; private set; }

    public string Words { get; private set; } = "";

    public bool ByMail { get; private set; }

    public Instant MadeAt { get; private set; }

    public Instant? SeenAt { get; private set; }

    /// <summary>A process took it to send. One that died meanwhile leaves it here, and another takes it again later under the same message id.</summary>
    public Instant? MailBegunAt { get; private set; }

    public Instant? MailedAt { get; private set; }

    public int MailTries { get; private set; }

    public void See(Instant now) => SeenAt ??= now;
}
