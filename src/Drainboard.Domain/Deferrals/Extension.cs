using Drainboard.Domain.Records;
using NodaTime;

namespace Drainboard.Domain.Deferrals;

/// <summary>Days added to a running clock, why, and who approved it. <see cref="NotifyBy"/>: when the authority must have been told, where the policy says.</summary>
public sealed record Extension(int Days, string Reason, string ApprovedBy, Instant At, Instant? NotifyBy);
