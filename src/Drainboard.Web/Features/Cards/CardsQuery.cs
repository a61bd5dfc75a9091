using Drainboard.Data;
using Drainboard.Domain.Defects;
using Drainboard.Domain.Fleet;
using Microsoft.EntityFrameworkCore;

namespace Drainboard.Web.Features.Cards;

public sealed class CardsQuery(IDbContextFactory<DrainboardDb> factory)
{
    /// <summary>The current version of every card.</summary>
    public async Task<IReadOnlyList<CardView>> ReadAsync(CancellationToken stop)
    {
        await using var db = await factory.CreateDbContextAsync(stop);
        var cards = await db.WorkCards.AsNoTracking().Where(card => card.IsCurrent).OrderBy(card => card.Title).ToArrayAsync(stop);
        var times = await CardTimes.ReadAsync(db, [.. cards.Select(card => card.Code)], stop);
        return [.. cards.Select(card => CardView.Of(card, times))];
    }

    /// <summary>Every version of one card, newest first; empty where there is none.</summary>
    public async Task<IReadOnlyList<CardView>> ReadAsync(string code, CancellationToken stop)
    {
        await using var db = await factory.CreateDbContextAsync(stop);
        var cards = await db.WorkCards.AsNoTracking().Where(card => card.Code == code).OrderByDescending(card => card.Version).ToArrayAsync(stop);
        var times = await CardTimes.ReadAsync(db, [code], stop);
        return [.. cards.Select(card => CardView.Of(card, times))];
    }

    /// <summary>The cards that fit a fixture, those for what is seen first.</summary>
    internal static async Task<IReadOnlyList<CardOffer>> OffersAsync(DrainboardDb db, FixtureKind kind, Symptom symptom, CancellationToken stop)
    {
        // A few dozen cards; the kinds are one JSON column.
        var cards = (await db.WorkCards.AsNoTracking().Where(card => card.IsCurrent).ToArrayAsync(stop)).Where(card => card.Kinds.Contains(kind)).ToArray();
        var times = await CardTimes.ReadAsync(db, [.. cards.Select(card => card.Code)], stop);
        return [.. cards.Select(card => new CardOffer(card.Code, card.Title, card.IsExample, card.Families.Contains(symptom.Family()), times.UsualOf(card.Code))).OrderByDescending(offer => offer.First).ThenBy(offer => cards.Single(card => card.Code == offer.Code).Kinds.Count).ThenBy(offer => offer.Title, StringComparer.Ordinal)];
    }
}
