using Drainboard.Domain.Records;
using NodaTime;

namespace Drainboard.Domain.Deferrals;

/// <summary>Days added to a running clock, why, and who approved it. <see cref="NotifyBy"/>: when the authority must have been told, where the policy says. <see cref="Approval"/>: the authority's approval beforehand, where the policy asks for one.</summary>
public sealed record Extension(int Days, string Reason, string ApprovedBy, Instant At, Instant? NotifyBy, string Approval = "", Instant? NotifiedAt = null, string NotifiedBy = "", string NoticeReference = "");
