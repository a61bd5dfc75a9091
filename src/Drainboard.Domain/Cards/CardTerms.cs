using Drainboard.Domain.Defects;
using Drainboard.Domain.Fleet;

namespace Drainboard.Domain.Cards;

/// <summary>A card as it is entered.</summary>
public sealed record CardTerms(string Title, string ManualReference, IReadOnlyList<FixtureKind> Kinds, IReadOnlyList<SymptomFamily> Families, bool HasShortForm, bool IsExample, IReadOnlyList<CardStep> Steps);
