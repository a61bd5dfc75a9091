using NodaTime;

namespace Drainboard.Domain.PotableWater;

/// <summary>
/// Drinking water on board by 40 CFR part 141 subpart X: which actions follow an event and by when, when a sample counts, and when a restriction
/// ends. The rule fixes no concentration: agent, concentration and contact time come from the operator's own plan (141.804(b)(2)).
/// </summary>
public static class WaterRule
{
    /// <summary>From collection to the start of the analysis, included (141.803(a)(4)).</summary>
    public static readonly Duration LongestToAnalysis = Duration.FromHours(30);

    /// <summary>After a routine disinfection and flushing no routine sample within this time (141.803(b)(6)).</summary>
    public static readonly Duration AfterDisinfection = Duration.FromHours(72);

    private static readonly Duration Day = Duration.FromHours(24);
    private static readonly Duration ThreeDays = Duration.FromHours(72);
    private const int ReportDays = 10;
    private const int DeficiencyDays = 90;
    private const int InspectionYears = 5;

    /// <summary>Routine sets of samples a year, for so many disinfections and flushings a year (141.803(b)(3), table B-1).</summary>
    /// <param name="disinfections">Zero or more; the manufacturer's frequency governs where there is one.</param>
    public static int RoutineSetsPerYear(int disinfections)
    {
        ArgumentOutOfRangeException.ThrowIfNegative(disinfections);
        return disinfections switch { >= 4 => 1, 3 => 2, 2 => 4, _ => 12 };
    }

    /// <param name="toldAt">When the laboratory told, or the miss or the boarding was discovered.</param>
    /// <param name="canShutOff">Whether the flow to every tap can be shut off.</param>
    public static IReadOnlyList<WaterAction> ActionsAfter(WaterEvent what, Instant toldAt, bool canShutOff) => what switch
    {
        WaterEvent.EColiPositive => Severe(toldAt, canShutOff, "141.803(c)(2)"),
        WaterEvent.MissedAfterEColi => Severe(toldAt, canShutOff, "141.803(g), (c)(2)"),
        WaterEvent.UnsafeSourceEColi => Severe(toldAt, canShutOff, "141.803(h), (i), (c)(2)"),
        WaterEvent.ColiformPositive => Choice(toldAt, canShutOff),
        WaterEvent.FollowUpColiformPositive => Restricted(toldAt, canShutOff, null, true, "141.803(e)(5)"),
        WaterEvent.MissedRoutine => Restricted(toldAt, canShutOff, null, false, "141.803(f), (c)(3)(ii)"),
        WaterEvent.MissedAfterColiform => Restricted(toldAt, canShutOff, null, false, "141.803(g), (c)(3)(ii)"),
        WaterEvent.UnsafeSource => Restricted(toldAt, canShutOff, null, false, "141.803(h), (i), (c)(3)(ii)"),
    };

    /// <summary>Why a restriction cannot be lifted yet, or null.</summary>
    /// <param name="disinfectedAt">The last disinfection and flushing since the event; null: none.</param>
    /// <param name="collectedAt">When a full follow-up set was collected; null: none.</param>
    /// <param name="isNegative">Whether every sample of it is total coliform-negative; null: not known yet.</param>
    public static Refusal? WhyNotLift(WaterEvent what, Instant? disinfectedAt, Instant? collectedAt, bool? isNegative) =>
        disinfectedAt is null ? new Refusal("not-disinfected", "The water system is not disinfected and flushed since then.")
        : collectedAt is null || collectedAt < disinfectedAt ? new Refusal("no-follow-up", "No full set of follow-up samples is collected after the disinfection.")
        : isNegative == false ? new Refusal("follow-up-positive", "A follow-up sample is positive. Enter that result: it starts its own actions.")
        : NeedsNegative(what) && isNegative is null ? new Refusal("follow-up-pending", "Water is not served until the full follow-up set is total coliform-negative.")
        : null;

    /// <summary>Why a routine sample does not count, or null. Exactly 72 hours is not settled by the text, so it is refused (our choice).</summary>
    public static Refusal? WhyNotRoutineSample(Instant collectedAt, Instant? lastDisinfectedAt) =>
        lastDisinfectedAt is { } done && collectedAt >= done && collectedAt - done <= AfterDisinfection
            ? new Refusal("too-soon", "A routine sample is not taken within 72 hours after a routine disinfection and flushing (141.803(b)(6)).")
            : null;

    /// <summary>Why an analysis does not count, or null.</summary>
    public static Refusal? WhyNotAnalysis(Instant collectedAt, Instant analysisStartedAt) =>
        analysisStartedAt < collectedAt ? new Refusal("analysed-before", "The analysis starts before the sample was collected. Check both times.")
        : analysisStartedAt - collectedAt > LongestToAnalysis ? new Refusal("too-late", "More than 30 hours from collection to analysis: the sample is not valid (141.803(a)(4)). Take it again.")
        : null;

    /// <summary>What the results of three repeat samples start; null: all are negative and routine monitoring goes on. Coliform without E. coli counts as a positive follow-up: the stricter reading, from memory.</summary>
    /// <param name="told">For each sample, whether E. coli, and whether any coliform, was found.</param>
    public static WaterEvent? AfterRepeats(IReadOnlyCollection<(bool EColi, bool Coliform)> told) =>
        told.Any(one => one.EColi) ? WaterEvent.EColiPositive : told.Any(one => one.Coliform) ? WaterEvent.FollowUpColiformPositive : null;

    /// <summary>What the samples of a set that are told so far start; null: nothing yet. E. coli in any of them is the severe event.</summary>
    public static WaterEvent? AfterSamples(SamplePurpose purpose, IEnumerable<Sample> samples)
    {
        var told = samples.Where(sample => sample.IsTold).Select(sample => (sample.EColi == true, sample.Coliform == true)).ToArray();
        return purpose == SamplePurpose.Routine && !told.Any(one => one.Item1) && told.Any(one => one.Item2) ? WaterEvent.ColiformPositive : AfterRepeats(told);
    }

    /// <summary>The last day to tell the authority of an event of this day (141.806).</summary>
    public static LocalDate ReportBy(LocalDate eventDay) => eventDay.PlusDays(ReportDays);

    /// <summary>The last day on which a deficiency found in a self-inspection of this day is put right (141.808); one found in heavy maintenance, before return to service.</summary>
    public static LocalDate DeficiencyBy(LocalDate found) => found.PlusDays(DeficiencyDays);

    /// <summary>The last day of the next self-inspection (141.808).</summary>
    public static LocalDate InspectionBy(LocalDate last) => last.PlusYears(InspectionYears);

    /// <summary>Whether water is served again only after a whole total coliform-negative set.</summary>
    public static bool NeedsNegative(WaterEvent what) => what is WaterEvent.EColiPositive or WaterEvent.MissedAfterEColi or WaterEvent.UnsafeSourceEColi or WaterEvent.FollowUpColiformPositive;

    private static WaterAction[] Severe(Instant toldAt, bool canShutOff, string source) =>
    [
        .. Restriction(toldAt + Day, canShutOff, null, source),
        new(WaterAct.DisinfectAndFlush, canShutOff ? null : toldAt + ThreeDays, null, "access is given back", source),
        new(WaterAct.FollowUpSamples, null, null, "water is served: the whole set is total coliform-negative", source),
        Report(toldAt),
    ];

    private static WaterAction[] Choice(Instant toldAt, bool canShutOff) =>
    [
        new(WaterAct.DisinfectAndFlush, toldAt + ThreeDays, "i", "", "141.803(c)(3)(i)"),
        new(WaterAct.FollowUpSamples, null, "i", "water is served: the set is collected", "141.803(c)(3)(i)"),
        .. Restricted(toldAt, canShutOff, "ii", false, "141.803(c)(3)(ii)").Where(action => action.Act != WaterAct.Report),
        new(WaterAct.RepeatSamples, toldAt + Day, "iii", "", "141.803(c)(3)(iii)"),
        Report(toldAt),
    ];

    private static WaterAction[] Restricted(Instant toldAt, bool canShutOff, string? way, bool isNegative, string source) =>
    [
        .. Restriction(toldAt + ThreeDays, canShutOff, way, source),
        new(WaterAct.DisinfectAndFlush, null, way, "access is given back", source),
        new(WaterAct.FollowUpSamples, null, way, isNegative ? "access is given back: the whole set is total coliform-negative" : "access is given back: the set is collected", source),
        Report(toldAt),
    ];

    private static IEnumerable<WaterAction> Restriction(Instant dueAt, bool canShutOff, string? way, string source)
    {
        yield return new(WaterAct.RestrictAccess, dueAt, way, "", source);
        yield return new(WaterAct.NoticeToGalley, dueAt, way, "", "141.805(c)");
        if (!canShutOff)
        {
            yield return new(WaterAct.NoticeInLavatories, dueAt, way, "", "141.805(c)");
        }
    }

    private static WaterAction Report(Instant toldAt) => new(WaterAct.Report, toldAt + Duration.FromDays(ReportDays), null, "", "141.806");
}
