using NodaTime;

namespace Drainboard.Domain.Pours;

/// <summary>A pour as the person timed it.</summary>
/// <param name="Milliseconds">From the start of the watch to its stop.</param>
/// <param name="UncertaintyMilliseconds">One standard uncertainty of the time, start and stop together.</param>
/// <param name="IsReference">The drain is known to be clean: keep this time to compare with.</param>
/// <param name="Confirmed">Codes of the <see cref="PourQuestions"/> that the person confirmed.</param>
public sealed record PourTerms(PourMeasure Measure, long Milliseconds, int UncertaintyMilliseconds, PourRun Run, bool IsReference, Instant PouredAt, IReadOnlyList<string> Confirmed);
