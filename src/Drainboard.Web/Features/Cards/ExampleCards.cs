using System.Text.Json;
using Drainboard.Data;
using Drainboard.Domain;
using Drainboard.Domain.Accounts;
using Drainboard.Domain.Cards;
using Drainboard.Domain.Records;
using Drainboard.Web.Features.Demo;
using Drainboard.Web.Hosting;
using Microsoft.EntityFrameworkCore;
using NodaTime;

namespace Drainboard.Web.Features.Cards;

/// <summary>The example cards of seed/examples/work-cards.json: patterns of common practice in our own words, to begin from. They say that they are examples.</summary>
internal static class ExampleCards
{
    private static readonly JsonSerializerOptions Json = Wire.Configure(new JsonSerializerOptions());

    public static IReadOnlyList<ExampleCard> Read() =>
        JsonSerializer.Deserialize<IReadOnlyList<ExampleCard>>(File.ReadAllText(Path.Combine(DemoLoader.SeedFolder, "examples", "work-cards.json")), Json)!;

    public static async Task PublishAsync(IDbContextFactory<DrainboardDb> factory, Instant now, CancellationToken stop)
    {
        await using var db = await factory.CreateDbContextAsync(stop);
        var deeds = new List<Deed>();
        foreach (var example in Read())
        {
            if (WorkCard.Publish(new WorkCardId(NewId.At(now)), example.Code, example.Terms, null, now, out var made) is { } no)
            {
                throw new InvalidOperationException($"Example card {example.Code}: {no.Words}");
            }

            db.Add(made!);
            deeds.Add(new Deed(new Fact(ChainKey.Operator, "card.published", made!.Id.Value, $"Work card {made.VersionWords} was published.").With("card", made.Code).With("cardVersion", made.Version), Actor.Installation, now));
        }

        await db.SaveAsync(new Writing(Actor.Installation, now, deeds), stop);
    }
}

internal sealed record ExampleCard(string Code, CardTerms Terms);
