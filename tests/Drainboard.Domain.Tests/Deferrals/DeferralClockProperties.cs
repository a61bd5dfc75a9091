using CsCheck;
using Drainboard.Domain.Deferrals;

namespace Drainboard.Domain.Tests.Deferrals;

public sealed class DeferralClockProperties
{
    private static readonly Gen<Instant> Instants = Gen.Long[Instant.FromUtc(2020, 1, 1, 0, 0).ToUnixTimeSeconds(), Instant.FromUtc(2035, 1, 1, 0, 0).ToUnixTimeSeconds()].Select(Instant.FromUnixTimeSeconds);
    private static readonly Gen<DateTimeZone> Zones = Gen.Int[0, DateTimeZoneProviders.Tzdb.Ids.Count - 1].Select(index => DateTimeZoneProviders.Tzdb[DateTimeZoneProviders.Tzdb.Ids[index]]);
    private static readonly Gen<Category> Categories = Gen.Int[(int)Category.B, (int)Category.D].Select(index => (Category)index);
    private static readonly DeferralPolicy Local = DeferralPolicies.Us with { TimeBase = TimeBase.Local };

    /// <summary>A counter of our own that steps day by day through the zone's calendar agrees with the closed form, in every zone of tzdb.</summary>
    [Fact]
    public void Read_InAnyZone_AgreesWithSteppingThroughTheDays() =>
        Gen.Select(Instants, Zones, Categories).Sample((recorded, zone, category) =>
        {
            var day = recorded.InZone(zone).Date;
            for (var counted = 0; counted < DeferralPolicies.Us.Days.For(category); counted++)
            {
                day = day.PlusDays(1);
            }

            return zone.AtStartOfDay(day.PlusDays(1)).ToInstant() == Due(Local, category, recorded, zone);
        });

    /// <summary>Counts minute by minute what the clocks on the wall show, for every zone of tzdb, and agrees with the closed form.</summary>
    [Fact]
    public void Times_ForEveryZone_AgreesWithCountingMinuteByMinute()
    {
        var random = new Random(20260126);
        foreach (var id in DateTimeZoneProviders.Tzdb.Ids)
        {
            var zone = DateTimeZoneProviders.Tzdb[id];
            for (var round = 0; round < 6; round++)
            {
                var recorded = Instant.FromUnixTimeSeconds(random.NextInt64(Instant.FromUtc(2005, 1, 1, 0, 0).ToUnixTimeSeconds(), Instant.FromUtc(2036, 1, 1, 0, 0).ToUnixTimeSeconds()) / 60 * 60);
                var category = round == 5 ? Category.C : Category.B;
                var last = recorded.InZone(zone).Date.PlusDays(Local.Days.For(category)!.Value);
                var at = recorded;
                while (at.InZone(zone).Date <= last)
                {
                    at += Duration.FromMinutes(1);
                }

                Assert.True(at == Due(Local, category, recorded, zone), $"{id}, recorded {recorded}, {category}: {at} by minutes, {Due(Local, category, recorded, zone)} in closed form");
            }
        }
    }

    [Fact]
    public void StartOf_WhereNodaTimeHasAnAnswer_IsTheSame() =>
        Gen.Select(Instants, Zones).Sample((at, zone) => CalendarDays.StartOf(zone, at.InZone(zone).Date) == zone.AtStartOfDay(at.InZone(zone).Date).ToInstant());

    [Fact]
    public void Read_WithSeveralLimits_IsTheMinimumOfEachAlone() =>
        Gen.Select(Instants, Gen.Int[1, 12], Gen.Int[1, 40], Gen.Int[1, 20], Gen.Int[0, 1000]).Sample((recorded, days, hours, cycles, seed) =>
        {
            var flights = Flights(recorded, seed);
            ClockLimit[] limits = [new(ClockUnit.CalendarDays, days, null), new(ClockUnit.FlightDays, days, null), new(ClockUnit.FlightHours, hours, null), new(ClockUnit.FlightCycles, cycles, null)];
            Instant? DueOf(params ClockLimit[] some) => DeferralClock.Read(new ClockQuestion(DeferralPolicies.Us, Category.A, recorded, DateTimeZone.Utc) { Limits = some, Sectors = flights }).DueAt;
            return DueOf(limits) == limits.Select(limit => DueOf(limit)).Where(due => due is not null).Min();
        });

    [Fact]
    public void Read_WithMoreFlights_NeverEndsLater() =>
        Gen.Select(Instants, Gen.Int[1, 40], Gen.Int[0, 1000]).Sample((recorded, hours, seed) =>
        {
            var flights = Flights(recorded, seed);
            Instant DueOf(IEnumerable<ClockSector> some) => DeferralClock.Read(new ClockQuestion(DeferralPolicies.Us, Category.A, recorded, DateTimeZone.Utc) { Limits = [new(ClockUnit.FlightHours, hours, null)], Sectors = [.. some] }).DueAt ?? Instant.MaxValue;
            return DueOf(flights) <= DueOf(flights.Where((_, index) => index % 3 != 1));
        });

    /// <summary>The machine's own time zone is nobody's calendar here.</summary>
    [Fact]
    public void Times_WhateverTheServersZone_AreTheSame()
    {
        var recorded = Instant.FromUtc(2026, 3, 7, 3, 30);
        var zone = DateTimeZoneProviders.Tzdb["America/New_York"];
        var before = Environment.GetEnvironmentVariable("TZ");
        try
        {
            var ends = new[] { "UTC", "Pacific/Kiritimati", "America/Los_Angeles", "Asia/Kathmandu" }.Select(server =>
            {
                Environment.SetEnvironmentVariable("TZ", server);
                TimeZoneInfo.ClearCachedData();
                return (Due(Local, Category.B, recorded, zone), Due(DeferralPolicies.Us, Category.B, recorded, zone));
            }).Distinct();

            Assert.Single(ends);
        }
        finally
        {
            Environment.SetEnvironmentVariable("TZ", before);
            TimeZoneInfo.ClearCachedData();
        }
    }

    [Fact]
    public void Read_RecordedLater_NeverEndsEarlier() =>
        Gen.Select(Instants, Gen.Int[0, 400_000], Zones, Categories).Sample((recorded, seconds, zone, category) =>
            Due(Local, category, recorded, zone) <= Due(Local, category, recorded + Duration.FromSeconds(seconds), zone));

    [Fact]
    public void Read_Extended_NeverShortens() =>
        Gen.Select(Instants, Gen.Int[0, 120], Zones).Sample((recorded, days, zone) =>
            DeferralClock.Times(Local, Category.C, recorded, zone, null, days).DueAt >= Due(Local, Category.C, recorded, zone));

    [Fact]
    public void Read_UtcAgainstLocal_DifferByNoMoreThanADay() =>
        Gen.Select(Instants, Zones, Categories).Sample((recorded, zone, category) =>
            Math.Abs((Due(Local, category, recorded, zone) - Due(DeferralPolicies.Us, category, recorded, zone)).TotalHours) <= 24);

    private static ClockSector[] Flights(Instant from, int seed)
    {
        var random = new Random(seed);
        var at = from - Duration.FromHours(20);
        var flights = new ClockSector[30];
        for (var index = 0; index < flights.Length; index++)
        {
            var off = at + Duration.FromMinutes(random.Next(30, 1200));
            at = off + Duration.FromMinutes(random.Next(45, 700));
            flights[index] = ClockSector.Of(off, at, random.Next(2) == 0 ? null : (at - off) * 0.9);
        }

        return flights;
    }

    private static Instant Due(DeferralPolicy policy, Category category, Instant recorded, DateTimeZone zone) =>
        DeferralClock.Times(policy, category, recorded, zone).DueAt;
}
