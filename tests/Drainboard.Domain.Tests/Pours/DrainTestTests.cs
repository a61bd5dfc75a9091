using CsCheck;
using Drainboard.Domain.Pours;
using Drainboard.Domain.Tests.Vectors;

namespace Drainboard.Domain.Tests.Pours;

/// <summary>Torricelli's closed forms against published exercises (sources in the vector file) and against numeric integration.</summary>
public sealed class DrainTestTests
{
    private static readonly System.Text.Json.JsonElement File = Vector.Read("09_orifice_drain");

    /// <summary>GATE-CE 2024, answer key 103.985 s.</summary>
    [Fact]
    public void Seconds_OfThePublishedExam_AreThoseOfItsKey()
    {
        var exam = File.GetProperty("gate_ce_2024");

        Assert.Equal(exam.Number("t_published"), DrainTest.Seconds(new Basin.Prism(exam.Number("A")), exam.Number("h1"), exam.Number("h2"), Circle(exam.Number("d")), exam.Number("Cd"), 0, exam.Number("g")), 3);
    }

    [Fact]
    public void Seconds_OfFrustumBowlAndTank_AreAsWorkedOut()
    {
        var frustum = File.GetProperty("frustum");
        Assert.Equal(frustum.Number("t"), DrainTest.Seconds(new Basin.Frustum(frustum.Number("r0"), frustum.Number("k")), frustum.Number("h1"), 0, Circle(frustum.Number("d")), frustum.Number("Cd"), 0, frustum.Number("g")), 8);
        var bowl = File.GetProperty("hemispherical_basin");
        Assert.Equal(bowl.Number("full_to_empty"), DrainTest.Seconds(new Basin.Hemisphere(bowl.Number("R")), bowl.Number("R"), 0, bowl.Number("a"), bowl.Number("Cd"), 0, bowl.Number("g")), 8);
        Assert.Equal(bowl.Number("t_partial"), DrainTest.Seconds(new Basin.Hemisphere(bowl.Number("R")), bowl.Number("H1"), bowl.Number("H2"), bowl.Number("a"), bowl.Number("Cd"), 0, bowl.Number("g")), 8);
        var tank = File.GetProperty("daugherty_style_15ft");
        Assert.Equal(tank.Number("t"), DrainTest.Seconds(new Basin.Prism(tank.Number("A")), tank.Number("h1"), tank.Number("h2"), tank.Number("a"), 1, 0, tank.Number("g")), 6);
        var pipe = File.GetProperty("tailpipe_head");
        Assert.Equal(pipe.Number("t_with_tailpipe"), DrainTest.Seconds(new Basin.Prism(pipe.Number("A")), pipe.Number("h_basin"), 0, pipe.Number("a"), pipe.Number("Cd"), pipe.Number("tailpipe"), pipe.Number("g")), 8);
    }

    [Fact]
    public void Area_OfEachTimedTest_IsAsWorkedOut()
    {
        foreach (var test in File.GetProperty("inverse").EnumerateArray())
        {
            Assert.Equal(test.Number("area_mm2_Cd_0p61"), 1e6 * DrainTest.Area(new Basin.Prism(test.Number("A")), test.Number("h1"), test.Number("h2"), test.Number("t"), 0.61, 0, test.Number("g")), 6);
        }
    }

    [Fact]
    public void InSeries_OfEachOpening_GivesTheStrainerBack()
    {
        var rows = File.GetProperty("strainer_in_series_with_drain");
        foreach (var row in rows.GetProperty("rows").EnumerateArray())
        {
            Assert.Equal(row.Number("open_fraction") * rows.Number("strainer_clean"), DrainTest.InSeries(row.Number("a_eff"), rows.Number("drain"))!.Value, 6);
            Assert.Equal(row.Number("index"), DrainTest.Openness(1, row.Number("drain_time_ratio")), 6);
        }

        Assert.Null(DrainTest.InSeries(300, 300));
    }

    /// <summary>Simpson's rule over the square root of the head, which takes the singularity away, agrees with every closed form.</summary>
    [Fact]
    public void Emptying_OfAnyBasin_AgreesWithNumericIntegration() =>
        Gen.Select(Gen.Int[0, 2], Gen.Double[0.05, 0.4], Gen.Double[0.01, 0.99], Gen.Double[0, 0.95], Gen.Double[0, 0.5]).Sample((shape, size, full, left, tailpipe) =>
        {
            Basin basin = shape switch { 0 => new Basin.Prism(size * size), 1 => new Basin.Hemisphere(size), _ => new Basin.Frustum(size / 2, 0.4) };
            var (from, to) = (size * full, size * full * left);
            const int Steps = 2000;
            var (low, high) = (Math.Sqrt(to + tailpipe), Math.Sqrt(from + tailpipe));
            var width = (high - low) / Steps;
            var sum = 0.0;
            for (var step = 0; step <= Steps; step++)
            {
                var s = low + (step * width);
                sum += (step is 0 or Steps ? 1 : step % 2 == 1 ? 4 : 2) * 2 * basin.SurfaceAt((s * s) - tailpipe);
            }

            return Math.Abs((sum * width / 3) - basin.Emptying(from, to, tailpipe)) <= 1e-9 + (1e-7 * basin.Emptying(from, to, tailpipe));
        });

    private static double Circle(double diameter) => Math.PI * diameter * diameter / 4;
}
