using Drainboard.Domain.Rectification;
using NodaTime;

namespace Drainboard.Domain.Tests.Rectification;

/// <summary>Cases worked from 14 CFR 121.703(d).</summary>
public sealed class ServiceDifficultyTests
{
    private static readonly DateTimeZone Local = DateTimeZoneProviders.Tzdb["America/New_York"];

    [Theory]
    [InlineData("S1", "2026-03-10T10:00:00", "2026-03-11T09:00:00", "2026-03-16")]
    [InlineData("S2", "2026-03-10T08:30:00", "2026-03-10T09:00:00", "2026-03-16")]
    [InlineData("nine sharp begins the next day", "2026-03-10T09:00:00", "2026-03-11T09:00:00", "2026-03-16")]
    [InlineData("due on a work day", "2026-03-12T10:00:00", "2026-03-13T09:00:00", "2026-03-17")]
    public void Report_IsDueNinetySixHoursAfterTheDayEnds_AndNotAtTheWeekend(string what, string found, string ends, string lastDay)
    {
        Assert.NotEmpty(what);
        var due = ServiceDifficulty.Of(NodaTime.Text.LocalDateTimePattern.GeneralIso.Parse(found).Value.InZoneStrictly(Local).ToInstant(), Local, []);
        Assert.Equal(ends, NodaTime.Text.LocalDateTimePattern.GeneralIso.Format(due.DayEnds.LocalDateTime));
        Assert.Equal(lastDay, NodaTime.Text.LocalDatePattern.Iso.Format(due.DueAt.Date));
    }

    [Fact]
    public void Holiday_MovesItToTheNextWorkDay() =>
        Assert.Equal(new LocalDate(2026, 3, 17), ServiceDifficulty.Of(Instant.FromUtc(2026, 3, 10, 16, 0), Local, [new LocalDate(2026, 3, 16)]).DueAt.Date);

    /// <summary>Ninety-six hours are hours that pass: over the change of 8 March 2026 09:00 becomes 10:00.</summary>
    [Fact]
    public void ClockChange_LeavesNinetySixHours() =>
        Assert.Equal(new LocalDateTime(2026, 3, 10, 10, 0), ServiceDifficulty.Of(new LocalDateTime(2026, 3, 5, 10, 0).InZoneStrictly(Local).ToInstant(), Local, []).DueAt.LocalDateTime);
}
