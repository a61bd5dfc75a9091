using Drainboard.Domain.Fleet;
using Drainboard.Domain.Plumbing;
using Drainboard.Web.Features.Fleet;

namespace Drainboard.Web.Features.SetUp;

/// <summary>A layout being drawn: fixtures with what each drains into and is supplied from, as people think of it.</summary>
internal sealed class LayoutDraft
{
    public required string Code { get; set; }

    /// <summary>The version that it was drawn from, or the newest that its drawer was told of.</summary>
    public required int SeenVersion { get; set; }

    public string Name { get; set; } = "";

    public int? Seats { get; set; }

    public bool MoveTails { get; set; }

    public List<FixtureDraft> Fixtures { get; } = [];

    public List<ClassDraft> Classes { get; } = [];

    public static LayoutDraft Of(LayoutView? layout)
    {
        var draft = new LayoutDraft { Code = layout?.Code ?? "", SeenVersion = layout?.Version ?? 0, Name = layout?.Name ?? "", Seats = layout?.Seats ?? 0 };
        draft.Fixtures.AddRange((layout?.Fixtures ?? []).Select(fixture => new FixtureDraft
        {
            Position = fixture.Position, Kind = fixture.Kind, Name = fixture.Name, Area = fixture.Area, Along = fixture.Along, Across = fixture.Across, Access = fixture.Access ?? "", Accessible = fixture.Accessible,
            DrainsInto = Joined(layout!, Water.Drainage, fixture.Position, pipe => pipe.From, pipe => pipe.To), SuppliedFrom = Joined(layout!, Water.Supply, fixture.Position, pipe => pipe.To, pipe => pipe.From),
        }));
        draft.Classes.AddRange((layout?.Classes ?? []).Select(one => new ClassDraft { Name = one.Name, Seats = one.Seats, From = one.From, To = one.To }));
        return draft;
    }

    public void Rename(string from, string to)
    {
        foreach (var fixture in Fixtures)
        {
            fixture.DrainsInto = string.Join(", ", Split(fixture.DrainsInto).Select(one => one == from ? to : one));
            fixture.SuppliedFrom = string.Join(", ", Split(fixture.SuppliedFrom).Select(one => one == from ? to : one));
        }
    }

    public SaveLayoutRequest ToRequest() => new(
        // An emptied number is no number: the rule refuses it in words.
        Name, Seats ?? -1, [.. Fixtures.Select(one => new FixtureBody(one.Position.Trim().ToUpperInvariant(), one.Kind, one.Name, one.Area, one.Along, one.Across, one.Access, one.Accessible))],
        [
            .. Fixtures.SelectMany(one => Split(one.SuppliedFrom).Select(from => new PipeBody(Water.Supply, from, one.Position.Trim().ToUpperInvariant()))),
            .. Fixtures.SelectMany(one => Split(one.DrainsInto).Select(to => new PipeBody(Water.Drainage, one.Position.Trim().ToUpperInvariant(), to))),
        ], MoveTails, [.. Classes.Select(one => new CabinClass(one.Name, one.Seats ?? 0, one.From ?? -1, one.To ?? -1))]);

    private static string Joined(LayoutView layout, Water water, string at, Func<PipeBody, string> near, Func<PipeBody, string> far) =>
        string.Join(", ", layout.Connections.Where(pipe => pipe.Water == water && near(pipe) == at).Select(far));

    private static string[] Split(string text) => [.. text.Split([',', ';', ' '], StringSplitOptions.RemoveEmptyEntries | StringSplitOptions.TrimEntries).Select(one => one.ToUpperInvariant())];
}

/// <summary>A class of seats and its stretch of the cabin.</summary>
internal sealed class ClassDraft
{
    public string Name { get; set; } = "";

    public int? Seats { get; set; }

    public int? From { get; set; }

    public int? To { get; set; }
}

/// <summary>One line of the table: a fixture and its pipes, positions separated by commas.</summary>
internal sealed class FixtureDraft
{
    public string Position { get; set; } = "";

    public FixtureKind Kind { get; set; }

    public string Name { get; set; } = "";

    public string Area { get; set; } = "";

    public int Along { get; set; } = 50;

    public int Across { get; set; } = 50;

    public string Access { get; set; } = "";

    public bool Accessible { get; set; }

    public string DrainsInto { get; set; } = "";

    public string SuppliedFrom { get; set; } = "";
}
