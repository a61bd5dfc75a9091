using Drainboard.Domain.Fleet;
using Drainboard.Domain.PlannedChecks;
using Drainboard.Domain.Tests.Situations;

namespace Drainboard.Domain.Tests.PlannedChecks;

public sealed class StandTemperatureTests
{
    private static readonly Instant Now = Cabin.Now;
    private static readonly Station Here = new(StationCode.Parse("QQAA"), "First", "Etc/UTC", [], LocalTime.Midnight, LocalTime.Midnight);

    [Fact]
    public void Coldest_IsTheColderOfTheNewestMeasuredAndTheNewestExpected()
    {
        StandTemperature[] told = [Told(-9, -150), Told(2, -10), Told(-3, -60, 600), Told(-8, -600, 500)];

        Assert.Equal(-3, Coldest(told, 0, 120)?.Celsius);
        Assert.Equal(2, Coldest(told, 0, 120, told.Where(one => !one.IsExpected))?.Celsius);

        // A newer word of an expected lowest one takes the place of an older one, though that is colder.
        Assert.Equal(-3, Coldest(told, 0, 120, told.Where(one => one.IsExpected))?.Celsius);
    }

    /// <summary>Measured ones hold three hours, and nothing is said of a stay that begins after.</summary>
    [Fact]
    public void Measured_HoldsThreeHours_AndNotForALaterStay()
    {
        Assert.Null(StandTemperature.Coldest([Told(-9, -179)], Now, Now + Duration.FromHours(1), Now + Duration.FromMinutes(1)));
        Assert.NotNull(Coldest([Told(-9, -179)], 0, 60));
        Assert.Null(Coldest([Told(-9, -179)], 5, 60));
    }

    [Fact]
    public void WhatCannotBe_IsRefusedInWords()
    {
        Assert.Equal("celsius", Cabin.Refused(Tell(61, 0, null)).Code);
        Assert.Equal("celsius", Cabin.Refused(Tell(-61, 0, null)).Code);
        Assert.Equal("too-old", Cabin.Refused(Tell(0, -180, null)).Code);
        Assert.Equal("until", Cabin.Refused(Tell(0, 0, 0)).Code);
        Assert.Equal("until", Cabin.Refused(Tell(0, 0, (48 * 60) + 1)).Code);
        Cabin.Done(Tell(0, 30, 48 * 60));
    }

    private static StandTemperature? Coldest(IEnumerable<StandTemperature> told, int from, int until, IEnumerable<StandTemperature>? instead = null) => StandTemperature.Coldest(instead ?? told, Now + Duration.FromMinutes(from), Now + Duration.FromMinutes(until), Now);

    private static StandTemperature Told(int celsius, int minutes, int? until = null)
    {
        var at = Now + Duration.FromMinutes(minutes);
        Cabin.Done(StandTemperature.Tell(new StandTemperatureId(Cabin.NewId()), Here, celsius, at, until is { } end ? Now + Duration.FromMinutes(end) : null, Cabin.Technician, at, out var made));
        return made!;
    }

    private static Decision Tell(int celsius, int at, int? until) => StandTemperature.Tell(new StandTemperatureId(Cabin.NewId()), Here, celsius, Now + Duration.FromMinutes(at), until is { } end ? Now + Duration.FromMinutes(end) : null, Cabin.Technician, Now, out _);
}
