using Drainboard.Domain.Reliability;
using Drainboard.Domain.Tests.Vectors;

namespace Drainboard.Domain.Tests.Reliability;

/// <summary>Spares against a published nomograph exercise (thirty parts: eleven spares) and standard tables (sources in the vector file).</summary>
public sealed class SpareStockTests
{
    private static readonly System.Text.Json.JsonElement File = Vector.Read("15_spares");

    [Theory]
    [InlineData("blanchard_30_parts")]
    [InlineData("blanchard_20_parts_variant")]
    public void Stock_OfThePublishedExercise_IsItsAnswer(string name)
    {
        var exercise = File.GetProperty(name);
        var stock = SpareStock.For(exercise.Number("KlambdaT"), 0.95);

        Assert.Equal((int)exercise.Number("S"), stock.Stock);
        Near.Equal(exercise.Number("cdf_S"), stock.Achieved);
    }

    [Fact]
    public void Stock_OfEachMeanAndService_IsTheTables()
    {
        foreach (var row in File.GetProperty("base_stock_table").EnumerateArray())
        {
            Assert.Equal(((int)row.Number("S_800"), (int)row.Number("S_950"), (int)row.Number("S_999")), (SpareStock.For(row.Number("lam"), 0.8).Stock, SpareStock.For(row.Number("lam"), 0.95).Stock, SpareStock.For(row.Number("lam"), 0.999).Stock));
        }

        foreach (var row in File.GetProperty("ebo_fill").EnumerateArray())
        {
            Assert.Equal(row.Number("EBO"), SpareStock.ExpectedBackorders(row.Number("lam"), (int)row.Number("s")), 10);
            Near.Equal(row.Number("ready_rate_P_X_le_s"), PoissonRate.AtMost((int)row.Number("s"), row.Number("lam")));
        }
    }

    /// <summary>A published article gives 42 % for three spares at a mean of three: that is "fewer than three", and not what a shelf does.</summary>
    [Fact]
    public void Achieved_CountsDemandUpToTheStock()
    {
        var trap = File.GetProperty("rmqsi_definition_trap");

        Near.Equal(trap.Number("P_X_le_3"), PoissonRate.AtMost(3, 3));
        Near.Equal(trap.Number("P_X_le_2"), PoissonRate.AtMost(2, 3));
    }

    [Fact]
    public void Stock_ForNoDemand_IsNone() => Assert.Equal(new SpareStock(0, 0, 1), SpareStock.For(0, 0.95));
}
