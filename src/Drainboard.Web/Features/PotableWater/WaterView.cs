using Drainboard.Domain.PotableWater;
using NodaTime;

namespace Drainboard.Web.Features.PotableWater;

/// <summary>A programme as it stands.</summary>
public sealed record WaterProgrammeView(string Code, int Number, WaterTerms Terms, Instant SavedAt, string SavedBy)
{
    public static WaterProgrammeView Of(WaterProgramme programme) => new(programme.Code, programme.Number, programme.Terms, programme.SavedAt, programme.SavedBy);
}

/// <param name="DueAt">Included; null: no time of its own.</param>
/// <param name="Way">Where a choice is left, to which way it belongs.</param>
/// <param name="Before">What must not happen until it is done.</param>
/// <param name="DoneAt">Null while it is not done.</param>
/// <param name="ByHand">It is said to be done; else the entry of the work itself does it.</param>
public sealed record WaterActionView(WaterAct Act, string What, Instant? DueAt, string? Way, string Before, string Source, Instant? DoneAt, string? DoneBy, bool ByHand)
{
    public bool IsOver(Instant now) => DoneAt is null && DueAt < now;
}

/// <param name="Missed">Its repeat samples were not collected in time.</param>
/// <param name="From">The set whose result started it.</param>
/// <param name="WhyNotLift">Why access cannot be given back yet; null: it can.</param>
/// <param name="Taps">The taps for the samples that it asks for next; empty: none now.</param>
public sealed record WaterCaseView(Guid Id, long Version, WaterEvent Kind, string What, Instant ToldAt, string Words, bool HasWays, string Way, bool Restricts, bool Missed, bool CanShutOff, Guid? From, IReadOnlyList<WaterActionView> Actions, string? WhyNotLift, SamplePurpose? Samples, IReadOnlyList<string> Taps, string OpenedBy, Instant? EndedAt, string EndedWhy);

public sealed record SampleView(string Tap, string Name, Instant? AnalysisStartedAt, bool? Coliform, bool? EColi);

/// <param name="AnalyseBy">30 hours after it was collected, included.</param>
public sealed record SampleSetView(Guid Id, long Version, SamplePurpose Purpose, Guid? Case, Instant CollectedAt, Instant AnalyseBy, string By, IReadOnlyList<SampleView> Samples, bool? Negative, string? Voided);

public sealed record WaterDeedView(Guid Id, WaterDeedKind Kind, string What, Instant At, string Words, string By, string? Voided);

/// <summary>A tail's drinking water: may it be served, what runs, what is due, what was done.</summary>
/// <param name="Restriction">What crew and passengers are told while it is not served; null: it may be.</param>
/// <param name="RoutineTaps">The taps for the next routine set: those sampled longest ago.</param>
public sealed record WaterView(string Tail, string Zone, Instant Now, WaterProgrammeView? Programme, string? Restriction, IReadOnlyList<WaterCaseView> Cases, IReadOnlyList<WaterDue> Dues, IReadOnlyList<string> RoutineTaps, IReadOnlyList<SampleSetView> Sets, IReadOnlyList<WaterDeedView> Deeds)
{
    /// <summary>For those on board (40 CFR 141.803(d)).</summary>
    public const string NotServed = "Tap water is not served and not used: not for drinking, coffee, tea, brushing teeth or washing hands. Bottled water, and gel or wipes for hands, instead; the notices stay up.";

    public IEnumerable<WaterCaseView> Running => Cases.Where(one => one.EndedAt is null);

    /// <summary>Ended, and the authority not told of yet.</summary>
    public IEnumerable<WaterCaseView> ToReport => Cases.Where(one => one.EndedAt is not null && one.Actions.Any(action => action is { Act: WaterAct.Report, DoneAt: null }));
}

/// <param name="Next">What is due next, what is over first; null where nothing is.</param>
/// <param name="Runs">What runs, in words.</param>
public sealed record WaterLine(string Tail, string Layout, string? Programme, bool Restricted, IReadOnlyList<string> Runs, Instant? NextAction, WaterDue? Next, int Over);

/// <summary>The fleet's drinking water: what is restricted first, then what is over, then by what is due.</summary>
public sealed record WaterFleetView(Instant Now, IReadOnlyList<WaterLine> Lines);
