using Drainboard.Domain.Deferrals;
using Bunit;
using Drainboard.Web.Features.Deferrals;
using Drainboard.Web.Features.Fleet;
using Drainboard.Web.Shell;

namespace Drainboard.Web.Tests.Components;

/// <summary>The shapes that carry meaning: each has its word, and draws what the numbers say.</summary>
public sealed class ShapesTests : BunitContext
{
    private static readonly Instant Now = Instant.FromUtc(2026, 1, 26, 10, 0);

    [Theory]
    [InlineData(0.61, false, false, null, 366, 9)]
    [InlineData(0.13, true, false, "short", 78, 9)]
    public void Wick_WithTimeLeft_ShortensAndIsNotchedAtMidnights(double part, bool underADay, bool lapsed, string? mark, int width, int notches)
    {
        var wick = Render<Wick>(parameters => parameters.Add(one => one.Clock, Clock(part, underADay, lapsed)).Add(one => one.Now, Now));

        Assert.Equal(width.ToString(System.Globalization.CultureInfo.InvariantCulture), wick.Find("rect.left").GetAttribute("width"));
        Assert.Equal(notches, wick.FindAll("path.notch").Sum(path => path.GetAttribute("d")!.Count(letter => letter == 'M')));
        Assert.Equal(underADay, wick.FindAll("path.hatch").Count > 0);
        Assert.Equal(mark is not null, wick.Find("svg").ClassList.Contains("short"));
    }

    [Fact]
    public void Wick_Lapsed_IsEmptyAndSaysSo()
    {
        var wick = Render<Wick>(parameters => parameters.Add(one => one.Clock, Clock(0, false, true)).Add(one => one.Now, Now));

        Assert.Empty(wick.FindAll("rect"));
        Assert.Equal("Lapsed", wick.Find("svg").GetAttribute("aria-label"));
    }

    [Fact]
    public void EveryStateWord_HasAShapeAndItsWord()
    {
        foreach (var shape in Enum.GetValues<Shape>())
        {
            var word = Render<StateWord>(parameters => parameters.Add(one => one.Shape, shape).AddChildContent("word"));
            Assert.NotEmpty(word.FindAll("svg path"));
            Assert.Contains("word", word.Markup, StringComparison.Ordinal);
        }
    }

    [Fact]
    public void GroundBar_OfATurnHalfGone_MarksNowInTheMiddle()
    {
        var turn = new TurnView("QQAA", "1", Now - Duration.FromMinutes(30), Now + Duration.FromMinutes(30), true, true, false, 0.5, 30);
        var bar = Render<GroundBar>(parameters => parameters.Add(one => one.Turn, turn));

        Assert.Equal("300", bar.Find("rect.gone").GetAttribute("width"));
        Assert.Equal("30 minutes to departure", bar.Find("svg").GetAttribute("aria-label"));
    }

    private static ClockView Clock(double part, bool underADay, bool lapsed) => new(Now - Duration.FromDays(4), Now + Duration.FromDays(6), ClockUnit.CalendarDays, part, 10, underADay, lapsed);
}
