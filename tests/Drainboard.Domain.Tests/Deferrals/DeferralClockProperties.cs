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

    [Fact]
    public void Read_RecordedLater_NeverEndsEarlier() =>
        Gen.Select(Instants, Gen.Int[0, 400_000], Zones, Categories).Sample((recorded, seconds, zone, category) =>
            Due(Local, category, recorded, zone) <= Due(Local, category, recorded + Duration.FromSeconds(seconds), zone));

    [Fact]
    public void Read_Extended_NeverShortens() =>
        Gen.Select(Instants, Gen.Int[0, 120], Zones).Sample((recorded, days, zone) =>
            DeferralClock.Read(new ClockQuestion(Local, Category.C, recorded, zone, ExtensionDays: days)).DueAt >= Due(Local, Category.C, recorded, zone));

    [Fact]
    public void Read_UtcAgainstLocal_DifferByNoMoreThanADayAndTheZonesOffset() =>
        Gen.Select(Instants, Zones, Categories).Sample((recorded, zone, category) =>
            Math.Abs((Due(Local, category, recorded, zone) - Due(DeferralPolicies.Us, category, recorded, zone)).TotalHours) <= 24 + 15);

    private static Instant Due(DeferralPolicy policy, Category category, Instant recorded, DateTimeZone zone) =>
        DeferralClock.Read(new ClockQuestion(policy, category, recorded, zone)).DueAt;
}
