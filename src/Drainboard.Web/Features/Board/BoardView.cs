using Drainboard.Domain.Defects;
using Drainboard.Domain.Records;
using Drainboard.Web.Features.Fleet;
using Drainboard.Web.Features.PlannedChecks;
using Drainboard.Web.Features.TurnFit;
using NodaTime;

namespace Drainboard.Web.Features.Board;

public sealed record LapsedPart(Guid Defect, string Name);

/// <summary>What came in about one fixture on one sector and is not sorted yet.</summary>
/// <param name="Sector">The flight on which it was seen; null where none is known.</param>
/// <param name="Standing">What stands on the same fixture already: where it may belong.</param>
public sealed record ReportGroup(string FixtureName, string? Sector, IReadOnlyList<ItemLine> Items, IReadOnlyList<ItemLine> Standing);

/// <param name="WaterNotServed">Why its drinking water is not served; null: it may be.</param>
/// <param name="Checks">The planned checks of this stay; null: none is due.</param>
/// <param name="LapsedParts">Parts without a release certificate whose time has lapsed: it does not depart with them.</param>
public sealed record BoardCard(string Tail, string Layout, TurnView Turn, IReadOnlyList<ItemLine> Items, IReadOnlyList<LapsedPart> LapsedParts, IReadOnlyList<ReportGroup> Reports, TogetherView? Together, string? WaterNotServed = null, RoundCount? Checks = null)
{
    public IReadOnlyList<ItemLine> Sorted => [.. Items.Where(item => item.State != DefectState.Reported)];

    public bool IsQuiet => Items.Count == 0 && LapsedParts.Count == 0 && WaterNotServed is null && Checks is not { Cold.Count: > 0 };

    public int Workable => Items.Count(item => item.State is DefectState.Reported or DefectState.Open or DefectState.WorkDone);
}

/// <summary>One station, now: tails on the ground and inbound, in order of departure.</summary>
public sealed record BoardView(string Station, string StationName, string Zone, Instant Now, LogMode Mode, IReadOnlyList<BoardCard> Cards)
{
    public int Reports => Cards.Sum(card => card.Items.Count(item => item.State == DefectState.Reported));

    public int Open => Cards.Sum(card => card.Items.Count(item => item.State == DefectState.Open));

    public int NotReleased => Cards.Sum(card => card.Items.Count(item => item.State == DefectState.WorkDone));

    public int Leaks => Cards.Sum(card => card.Items.Count(item => item.Leaking));

    public int Lapsed => Cards.Sum(card => card.Items.Count(item => item.Carried is { Running: true, Clock.Lapsed: true }));

    public int LapseSoon => Cards.Sum(card => card.Items.Count(item => item.Carried is { Running: true, Clock.UnderADay: true }));

    /// <summary>Tails with nothing to do on them, in order of departure.</summary>
    public IReadOnlyList<BoardCard> Quiet => [.. Cards.Where(card => card.IsQuiet)];

    public BoardCard? NextToGo => Cards.FirstOrDefault(card => card.Turn.OnGround);
}
