using Drainboard.Domain.Fleet;

namespace Drainboard.Domain.Isolation;

/// <summary>One segment of the drain as the advice sees it.</summary>
/// <param name="Prior">Before any pour: the trade's share moved by findings, days since it was opened, and circumstances.</param>
/// <param name="Blocked">After the pours.</param>
/// <param name="Alone">That it and nothing else is blocked: what the order of opening goes by.</param>
/// <param name="MinutesFrom">What the minutes rest on, in words.</param>
public sealed record SegmentAdvice(Fixture Fixture, double Prior, double Blocked, double Alone, double Minutes, string MinutesFrom, SegmentHistory History);
