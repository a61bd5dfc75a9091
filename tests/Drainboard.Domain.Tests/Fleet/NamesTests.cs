using Drainboard.Domain.Fleet;

namespace Drainboard.Domain.Tests.Fleet;

public sealed class NamesTests
{
    [Theory]
    [InlineData(" qqmb ", "QQMB")]
    [InlineData("QQM", null)]
    [InlineData("QQM1", null)]
    public void StationCode_TryParse_TakesFourLetters(string text, string? expected) =>
        Assert.Equal(expected, StationCode.TryParse(text, out var code) ? code.Value : null);

    [Theory]
    [InlineData("qq-mra", "QQ-MRA")]
    [InlineData("N12345", "N12345")]
    [InlineData("-QQ", null)]
    [InlineData("QQ--A", null)]
    [InlineData("A", null)]
    public void Registration_TryParse_TakesAMark(string text, string? expected) =>
        Assert.Equal(expected, Registration.TryParse(text, out var mark) ? mark.Value : null);
}
