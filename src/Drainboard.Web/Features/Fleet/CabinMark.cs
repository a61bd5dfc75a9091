using Drainboard.Domain.Defects;
using Drainboard.Domain.Fleet;
using Drainboard.Domain.Plumbing;

namespace Drainboard.Web.Features.Fleet;

/// <summary>A fixture's place on the cabin picture, with what is worst about it; null where nothing is.</summary>
public sealed record CabinMark(string Position, string Name, int Along, int Across, int? Number, DefectState? State, bool Leaking);

/// <summary>A drain pipe on the cabin picture, from place to place; <paramref name="Ends"/> at a mast.</summary>
public sealed record CabinPipe(int FromAlong, int FromAcross, int ToAlong, int ToAcross, bool Ends)
{
    public static IReadOnlyList<CabinPipe> Of(CabinLayout layout) =>
    [
        .. from pipe in layout.Connections
           where pipe.Water == Water.Drainage
           let one = layout.Find(pipe.From)
           let next = layout.Find(pipe.To)
           where one is not null && next is not null && next.Kind is not (FixtureKind.VacuumGenerator or FixtureKind.ServicePanel)
           select new CabinPipe(one.Along, one.Across, next.Along, next.Across, next.Kind == FixtureKind.DrainMast),
    ];
}

/// <summary>What is down in one part of the cabin.</summary>
public sealed record AreaDown(string Area, IReadOnlyList<string> Fixtures)
{
    public static IReadOnlyList<AreaDown> Of(CabinLayout layout, IReadOnlyCollection<ItemLine> items) =>
    [
        .. from fixture in layout.Fixtures
           where items.Any(item => item.Position == fixture.Position.Value)
           orderby fixture.Along, fixture.Across
           group fixture.Name by fixture.Area into area
           select new AreaDown(area.Key, [.. area]),
    ];
}

/// <summary>How many of a kind there are, and how many of them are carried or open now: the cumulative effect of what is deferred (AMC M.A.301(b)).</summary>
public sealed record KindCount(string Kind, int Installed, int Carried, int Open)
{
    public static IReadOnlyList<KindCount> Of(CabinLayout layout, IReadOnlyCollection<ItemLine> items) =>
    [
        .. from fixture in layout.Fixtures
           where fixture.Kind.IsUsedOnBoard() || items.Any(item => item.Position == fixture.Position.Value)
           group fixture by fixture.Kind into kind
           let here = items.Where(item => kind.Any(fixture => fixture.Position.Value == item.Position)).ToArray()
           let carried = here.Where(item => item.State == DefectState.Deferred).Select(item => item.Position).Distinct().Count()
           let open = here.Where(item => item.State != DefectState.Deferred).Select(item => item.Position).Distinct().Count()
           where carried + open > 0
           orderby carried + open descending, kind.Key
           select new KindCount(kind.Key.Words(), kind.Count(), carried, open),
    ];

    public static IReadOnlyList<CabinMark> Marks(CabinLayout layout, IReadOnlyCollection<ItemLine> items)
    {
        var worst = items.GroupBy(item => item.Position).ToDictionary(here => here.Key, here => here.First());
        return
        [
            .. layout.Fixtures.Where(fixture => fixture.Kind.IsUsedOnBoard() || worst.ContainsKey(fixture.Position.Value))
                .Select(fixture => worst.GetValueOrDefault(fixture.Position.Value) is { } item
                    ? new CabinMark(fixture.Position.Value, fixture.Name, fixture.Along, fixture.Across, item.Number, item.State, item.Leaking)
                    : new CabinMark(fixture.Position.Value, fixture.Name, fixture.Along, fixture.Across, null, null, false)),
        ];
    }
}
