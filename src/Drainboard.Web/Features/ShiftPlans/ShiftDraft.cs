using Drainboard.Domain.Defects;
using Drainboard.Domain.TurnFit;
using Drainboard.Web.Features.TurnFit;
using NodaTime;

namespace Drainboard.Web.Features.ShiftPlans;

/// <summary>Somebody who could be on the shift.</summary>
/// <param name="Authorisation">The number that they sign under; empty where nothing is on file: somebody else releases their work.</param>
public sealed record ShiftTechnician(Guid Person, string Name, string Authorisation);

/// <summary>A stay in the shift.</summary>
public sealed record ShiftTurn(Guid Turn, string Tail, string Stand, Instant ArrivesAt, Instant DepartsAt, bool OnBlocks, IReadOnlyList<BlockView> Blocks, int Items);

/// <summary>An item that could be done in the shift.</summary>
/// <param name="Minutes">What is left of it, as long as is enough with the chance that was chosen.</param>
/// <param name="From">When its place can be worked, and <paramref name="To"/>; the end leaves room for the papers.</param>
/// <param name="Barred">Whose authorisation does not cover it.</param>
/// <param name="Holder">Who has it in hand: it stays with them unless the lead pins it to somebody else.</param>
/// <param name="WhyNot">Why it cannot be planned here; null where it can.</param>
public sealed record ShiftItem(Guid Defect, int Number, string Tail, string Stand, string Fixture, Symptom Symptom, DefectState State, int Minutes, int Weight, IReadOnlyList<string> Reasons, Instant From, Instant To, Instant Departs, string Access, IReadOnlyList<Guid> Barred, Guid? Holder, string? WhyNot)
{
    /// <summary>The time that is enough with a chance: what the risk is worked out from.</summary>
    internal WorkTime Work { get; init; } = WorkTime.Of([]);
}

/// <summary>All that a shift's plan is made of.</summary>
public sealed record ShiftDraft(string Station, string StationName, string Zone, Instant Now, Instant From, Instant To, IReadOnlyList<ShiftTechnician> People, IReadOnlyList<ShiftTurn> Turns, IReadOnlyList<ShiftItem> Items);
