using Drainboard.Domain.Deferrals;

namespace Drainboard.Domain.Tests.Deferrals;

public sealed class DeferralPolicyTests
{
    public static TheoryData<string> Names => [.. DeferralPolicies.Presets.Select(policy => policy.Name)];

    [Theory]
    [MemberData(nameof(Names))]
    public void Preset_IsWithoutContradiction_AndNamesASourceForEveryFieldItSets(string name)
    {
        var policy = DeferralPolicies.Find(name)!;
        string[] set =
        [
            PolicyFields.Days, PolicyFields.DayOfDiscovery, PolicyFields.CalendarStart, PolicyFields.StartsFrom,
            .. policy.TimeBase is null ? [] : new[] { PolicyFields.TimeBase },
            .. policy.CountedUnitStart is null ? [] : new[] { PolicyFields.CountedUnitStart },
            .. policy.ExpiryTest is null ? [] : new[] { PolicyFields.ExpiryTest },
            .. policy.Extendable == PerCategory.Unset ? [] : new[] { PolicyFields.Extendable },
            .. policy.MaxExtensions is null ? [] : new[] { PolicyFields.MaxExtensions },
            .. policy.NotifyWithin is null ? [] : new[] { PolicyFields.NotifyWithin },
            .. policy.ApprovalBeforeA is null ? [] : new[] { PolicyFields.ApprovalBefore },
        ];

        Assert.Null(policy.WhyNot());
        Assert.DoesNotContain(set, field => policy.SourceOf(field).Verification == "set by operator");
    }

    /// <summary>The published day counts: B 3, C 10, D 120 (TC MMEL guide, ATA 38, read; the FAA's second-hand; the EU's from memory). Hong Kong's C and D were not read.</summary>
    [Theory]
    [InlineData("us", 3, 10, 120)]
    [InlineData("eu", 3, 10, 120)]
    [InlineData("uk", 3, 10, 120)]
    [InlineData("ca", 3, 10, 120)]
    [InlineData("hk", 3, null, null)]
    public void Preset_HasThePublishedDays(string name, int b, int? c, int? d) =>
        Assert.Equal(new PolicyDays(b, c, d), DeferralPolicies.Find(name)!.Days);

    [Theory]
    [InlineData("B longer than C")]
    [InlineData("extensions without a category")]
    [InlineData("a category without extensions")]
    [InlineData("zone that is none")]
    [InlineData("two notice rules")]
    [InlineData("approval for what is never extended")]
    public void WhyNot_OfAPolicyThatContradictsItself_IsARefusal(string what)
    {
        var us = DeferralPolicies.Us;
        var policy = what switch
        {
            "B longer than C" => us with { Days = new PolicyDays(11, 10, 120) },
            "extensions without a category" => us with { Extendable = new PerCategory(false, false, false, false) },
            "a category without extensions" => us with { MaxExtensions = 0 },
            "zone that is none" => us with { TimeBase = TimeBase.OperatorZone, OperatorZone = "Mars/Olympus" },
            "two notice rules" => us with { NotifyWithin = new NotifyRule(24, 1) },
            _ => us with { ApprovalBeforeA = true },
        };

        Assert.Equal("policy-contradicts-itself", policy.WhyNot()?.Code);
    }

    [Fact]
    public void Times_InTheOperatorsZone_CountsThereWhereverTheStationIs()
    {
        var policy = DeferralPolicies.Eu with { TimeBase = TimeBase.OperatorZone, OperatorZone = "Asia/Tokyo" };
        var recorded = Instant.FromUtc(2026, 1, 25, 23, 0);

        // F9: our arithmetic, Tokyo.
        Assert.Equal(Instant.FromUtc(2026, 1, 29, 15, 0), DeferralClock.Times(policy, Category.B, recorded, DateTimeZoneProviders.Tzdb["America/New_York"]).DueAt);
    }
}
