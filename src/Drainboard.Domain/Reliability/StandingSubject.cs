using Drainboard.Domain.Defects;
using Drainboard.Domain.Fleet;

namespace Drainboard.Domain.Reliability;

/// <summary>Which fixture or place a standing is of.</summary>
/// <param name="Tail">Null for a place.</param>
/// <param name="Family">Null for a place.</param>
public sealed record StandingSubject(StandingScope Scope, TailId? Tail, string Layout, Position Position, FixtureKind Kind, SymptomFamily? Family);
