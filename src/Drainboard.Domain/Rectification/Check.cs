using NodaTime;

namespace Drainboard.Domain.Rectification;

/// <summary>The result of an ops check or a leak check: passed or not, in words, by whom and when.</summary>
public sealed record Check(bool Passed, string Words, string By, Instant At);
