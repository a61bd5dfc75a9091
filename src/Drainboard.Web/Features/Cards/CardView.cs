using Drainboard.Domain.Cards;
using Drainboard.Domain.Defects;
using Drainboard.Domain.Fleet;
using NodaTime;

namespace Drainboard.Web.Features.Cards;

/// <param name="UsualMinutes">The median hands-on time of the last jobs to this card; null while there are fewer than three.</param>
/// <param name="Jobs">How many jobs it is over.</param>
public sealed record CardView(string Code, int Version, string Title, string ManualReference, bool IsExample, bool IsCurrent, IReadOnlyList<FixtureKind> Kinds, IReadOnlyList<SymptomFamily> Families, bool HasShortForm, IReadOnlyList<CardStep> Steps, Instant PublishedAt, int? UsualMinutes, int Jobs)
{
    public static CardView Of(WorkCard card, CardTimes times) =>
        new(card.Code, card.Version, card.Title, card.ManualReference, card.IsExample, card.IsCurrent, card.Kinds, card.Families, card.HasShortForm, card.Steps, card.PublishedAt, times.UsualOf(card.Code), times.JobsOf(card.Code));
}

/// <summary>A card that fits an item.</summary>
/// <param name="First">It is for what is seen, so it is offered first.</param>
public sealed record CardOffer(string Code, string Title, bool IsExample, bool First, int? UsualMinutes);
