using Bunit;
using Drainboard.Domain.Fleet;
using Drainboard.Domain.Isolation;
using Drainboard.Domain.Plumbing;
using Drainboard.Web.Features.Demo;
using Drainboard.Web.Features.Plumbing;
using Drainboard.Web.Features.SetUp;

namespace Drainboard.Web.Tests.Components;

/// <summary>The picture is drawn from the graph: whole, in order, readable, and the same in words.</summary>
public sealed class PipePictureTests : BunitContext
{
    public static TheoryData<string, int> Layouts => new() { { "N1", 5 }, { "W2", 9 }, { "W3", 10 } };

    /// <summary>Every view of every demo layout: a line for each end, none on another, and narrow enough that 15 units of type stay above 12 px on a 390 px phone (334 px inside a sheet).</summary>
    [Theory]
    [MemberData(nameof(Layouts))]
    public async Task Drawing_OfEveryView_IsWholeAndReadableOnAPhone(string code, int fewest)
    {
        var graph = (await LayoutAsync(code)).Plumbing;
        var drawn = 0;
        foreach (var water in Enum.GetValues<Water>())
        {
            foreach (var view in graph.Views(water))
            {
                var branch = graph.Around(view.Position, water)!;
                var drawing = new PipeDrawing(branch);
                var ends = drawing.Nodes.Where(node => node.IsEnd).ToArray();

                Assert.Equal(branch.Leaves, ends.Length);
                Assert.Equal(ends.Length, ends.Select(node => node.Y).Distinct().Count());
                Assert.Equal(branch.Fixtures.Count(), drawing.Nodes.Count);
                Assert.Equal(drawing.Nodes.Count - 1, drawing.Strokes.Count);
                Assert.All(drawing.Strokes, pipe => Assert.True(pipe.ToX > pipe.FromX, $"{code} {view.Position}: a pipe runs back."));
                Assert.True(drawing.Width * 12 <= 334 * 15, $"{code} {view.Position} is {drawing.Width} wide.");
                drawn++;
            }
        }

        Assert.True(drawn >= fewest, $"Only {drawn} views.");
    }

    [Fact]
    public async Task Picture_SaysInWordsWhatItShows()
    {
        var graph = (await LayoutAsync("N1")).Plumbing;
        var picture = Render<PipePicture>(parameters => parameters
            .Add(one => one.Branch, graph.Around(Position.Parse("BR-A"), Water.Drainage)!).Add(one => one.Tail, "QQ-TST").Add(one => one.CloserIn, at => $"#{at}")
            .Add(one => one.Marks, new Dictionary<string, PipeMark> { ["K-G4-1"] = new("leaking", Warm: true), ["K-G4-2"] = new(Pour: "slow, 54 % of clean", Result: PourResult.Slow), ["S-G4-1"] = new(Blocked: 0.72), ["DM-A"] = new(Blocked: 0.004) }));

        Assert.Contains(picture.FindAll("a"), link => link.GetAttribute("aria-label") == "S-G4-1 72 %: Strainer, aft galley sink 1, blocked with 72 %" && link.GetAttribute("href") == "/tails/QQ-TST/fixtures/S-G4-1");
        Assert.Contains(picture.FindAll("a"), link => link.GetAttribute("aria-label") == "DL-A +2: Aft drain trunk, and 2 more there" && link.GetAttribute("href") == "#DL-A");
        var words = picture.Find(".tree").TextContent;
        Assert.Contains("Aft galley sink 1 K-G4-1, leaking", words, StringComparison.Ordinal);
        Assert.Contains("Aft galley sink 2 K-G4-2, slow, 54 % of clean", words, StringComparison.Ordinal);
        Assert.Contains("Coffee maker 1, aft galley C-G4-1, not poured", words, StringComparison.Ordinal);
        Assert.Contains("blocked with <1 %", words, StringComparison.Ordinal);
    }

    /// <summary>What is likely blocked fills: the higher the likelier, and nothing at none.</summary>
    [Theory]
    [InlineData(0.72, 13)]
    [InlineData(1, 18)]
    public void Symbol_FillsWithHowLikelyItIsBlocked(double blocked, int high) =>
        Assert.Equal($"{high}", Render<PipeSymbol>(parameters => parameters.Add(one => one.Kind, FixtureKind.Strainer).Add(one => one.X, 0).Add(one => one.Y, 0).Add(one => one.Filled, blocked)).Find(".filled").GetAttribute("height"));

    [Fact]
    public void Symbol_OfWhatIsNotBlocked_IsEmpty() =>
        Assert.Empty(Render<PipeSymbol>(parameters => parameters.Add(one => one.Kind, FixtureKind.DrainMast).Add(one => one.X, 0).Add(one => one.Y, 0).Add(one => one.Filled, 0.001)).FindAll(".filled"));

    private static async Task<CabinLayout> LayoutAsync(string code)
    {
        var files = await ImportSource.ReadFolderAsync(DemoLoader.SeedFolder, Xunit.TestContext.Current.CancellationToken);
        IEnumerable<string[]> Rows(string table) => files[$"{table}.csv"].Split('\n', StringSplitOptions.RemoveEmptyEntries).Skip(1).Select(line => System.Text.RegularExpressions.Regex.Matches(line, "(?<=^|,)(\"[^\"]*\"|[^,]*)").Select(cell => cell.Value.Trim('"')).ToArray()).Where(row => row[0] == code);
        var fixtures = Rows("fixtures").Select(row => new Fixture(Position.Parse(row[2]), Enum.Parse<FixtureKind>(row[3], true), row[4], row[5], int.Parse(row[6], System.Globalization.CultureInfo.InvariantCulture), int.Parse(row[7], System.Globalization.CultureInfo.InvariantCulture)));
        return new CabinLayout(new LayoutId(Guid.Empty), code, 1, code, 1, fixtures, Rows("connections").Select(row => new Connection(Enum.Parse<Water>(row[2], true), Position.Parse(row[3]), Position.Parse(row[4]))));
    }
}
