using Drainboard.Domain.Records;

namespace Drainboard.Domain.Rectification;

/// <summary>What the certifying technician enters: the outcome, what stays open (145.A.50(e)), and the log line.</summary>
public sealed record ReleaseTerms(WorkOutcome Outcome, string OpenTasks, LogReference? Log);
