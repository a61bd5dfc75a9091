using Drainboard.Web.Shell;

namespace Drainboard.Web.Tests.Components;

public sealed class TimesTests
{
    [Theory]
    [InlineData(146, "6 d 2 h")]
    [InlineData(9.31, "9 h 18 min")]
    [InlineData(0.2, "12 min")]
    [InlineData(23.999, "23 h 59 min")]
    public void Left_IsTwoUnitsRoundedDown(double hours, string words) => Assert.Equal(words, Times.Left(Duration.FromHours(hours)));

    [Theory]
    [InlineData("2026-01-26T10:00", "America/New_York", "2026-01-26T15:00Z")]
    [InlineData("2026-03-08T02:30", "America/New_York", "2026-03-08T07:30Z")]
    [InlineData("2026-11-01T01:30", "America/New_York", "2026-11-01T05:30Z")]
    public void FromInput_ReadsStationTime_AlsoWhereClocksChange(string text, string zone, string expected) =>
        Assert.Equal(expected, Times.FromInput(text, zone)!.Value.ToString("uuuu-MM-dd'T'HH:mm'Z'", null));

    [Fact]
    public void FromInput_Nonsense_IsNothing() => Assert.Null(Times.FromInput("yesterday", "Etc/UTC"));
}
