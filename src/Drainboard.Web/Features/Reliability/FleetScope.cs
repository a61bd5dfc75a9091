using Drainboard.Data;
using Drainboard.Domain.Defects;
using Drainboard.Domain.Fleet;
using Microsoft.AspNetCore.WebUtilities;
using Microsoft.EntityFrameworkCore;

namespace Drainboard.Web.Features.Reliability;

/// <summary>Which part of the fleet's history a question is about. Every part may be left out; it is the page's address, and the query of its files.</summary>
public sealed record FleetScope(string? Layout = null, FixtureKind? Kind = null, SymptomFamily? Family = null)
{
    public static FleetScope Of(string? layout, string? kind, string? family) => new(Asked.Clean(layout), Asked.Name<FixtureKind>(kind), Asked.Name<SymptomFamily>(family));

    public string Address(string page, params (string Name, string? Value)[] more) =>
        QueryHelpers.AddQueryString(page, new Dictionary<string, string?>([new("layout", Layout), new("kind", Asked.Camel(Kind)), new("family", Asked.Camel(Family)), .. more.Select(one => KeyValuePair.Create(one.Name, one.Value))]));

    /// <summary>The tails in question with their drawings.</summary>
    internal async Task<IReadOnlyDictionary<TailId, CabinLayout>> CabinsAsync(DrainboardDb db, Features.Fleet.LayoutCatalog layouts, CancellationToken stop)
    {
        var cabins = new Dictionary<TailId, CabinLayout>();
        foreach (var tail in await db.Tails.AsNoTracking().Select(tail => new { tail.Id, tail.Layout }).ToArrayAsync(stop))
        {
            var cabin = await layouts.GetAsync(tail.Layout, stop);
            if (Layout is null || cabin.Code == Layout)
            {
                cabins[tail.Id] = cabin;
            }
        }

        return cabins;
    }

    /// <summary>The write-ups of a time that are in question.</summary>
    internal IQueryable<Defect> WriteUps(DrainboardDb db, IReadOnlyDictionary<TailId, CabinLayout> cabins, NodaTime.Instant from, NodaTime.Instant until)
    {
        var rows = StandingsMaker.WriteUps(db, from, until);
        if (Layout is not null)
        {
            var tails = cabins.Keys.ToArray();
            rows = rows.Where(defect => tails.Contains(defect.Tail));
        }

        if (Family is { } family)
        {
            var symptoms = Enum.GetValues<Symptom>().Where(symptom => symptom.Family() == family).ToArray();
            rows = rows.Where(defect => symptoms.Contains(defect.Symptom));
        }

        if (Kind is { } kind)
        {
            var positions = cabins.Values.Distinct().SelectMany(cabin => cabin.Fixtures).Where(fixture => fixture.Kind == kind).Select(fixture => fixture.Position).Distinct().ToArray();
            rows = rows.Where(defect => positions.Contains(defect.Position));
        }

        return rows;
    }
}
