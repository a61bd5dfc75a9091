using Drainboard.Domain.Defects;
using Drainboard.Domain.Fleet;

namespace Drainboard.Domain.TurnFit;

/// <summary>A job that was done and signed.</summary>
/// <param name="Layout">The layout's code.</param>
/// <param name="Minutes">Hands-on, above zero; null where nobody kept it.</param>
public sealed record PastJob(string Layout, FixtureKind Fixture, SymptomFamily Family, JobKind Kind, int? Minutes);
