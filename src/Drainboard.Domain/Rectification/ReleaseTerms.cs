using Drainboard.Domain.Defects;
using Drainboard.Domain.Records;

namespace Drainboard.Domain.Rectification;

/// <summary>What the certifying technician enters: rectified or no fault found, what stays open (145.A.50(e)), and the log line.</summary>
public sealed record ReleaseTerms(Closure Outcome, string OpenTasks, LogReference? Log);
