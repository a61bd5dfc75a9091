using Drainboard.Domain.Defects;
using Drainboard.Domain.Fleet;
using Drainboard.Domain.PlannedChecks;
using Drainboard.Domain.TurnFit;
using Drainboard.Web.Features.Fleet;
using NodaTime;

namespace Drainboard.Web.Features.PlannedChecks;

/// <summary>The walk-round of a tail: what is due at the stay under way or next, and what was done in it.</summary>
/// <param name="ColdUnknown">A check hangs on the temperature of the stand, and nothing that holds is known of it.</param>
/// <param name="Next">The stay after this one, for what does not fit.</param>
/// <param name="Standing">What stands on the fixtures already: a finding may be the same.</param>
public sealed record RoundView(string Tail, string Layout, TurnView? Stay, string Zone, Instant Now, IReadOnlyList<RoundLine> Lines, IReadOnlyList<CheckDoneView> Done, TemperatureView? Coldest, bool ColdUnknown, TurnView? Next, IReadOnlyList<StandingItem> Standing, IReadOnlyList<FixtureLine> Fixtures)
{
    public int Minutes => Lines.Sum(line => line.Minutes);
}

/// <param name="Position">Null: the whole aircraft.</param>
/// <param name="From">When there is time for it in this stay; null: there is none that is long enough.</param>
public sealed record RoundLine(string Check, int Number, string Title, string Look, string Caution, string Manual, FixtureKind? Kind, CabinPlace Place, int Minutes, string Rhythm, string? Position, string Name, Instant? LastAt, Instant DueAt, CheckReason Reason, bool Overdue, Instant? From, Instant? To)
{
    internal static RoundLine Of(RoundSlot slot, Instant now)
    {
        var (due, terms) = (slot.Due, slot.Due.Check.Terms);
        return new RoundLine(due.Check.Code, due.Check.Number, terms.Title, terms.Look, terms.Caution, terms.Manual, terms.Kind, terms.Place, terms.Minutes, terms.Rhythm, due.Fixture?.Position.Value, due.Name, due.LastAt, due.DueAt, due.Reason, due.IsOverdue(now), slot.From, slot.To);
    }
}

/// <param name="TakenBack">Why it was taken back, and by whom; null where it stands.</param>
/// <param name="Defect">What a finding was written up as.</param>
public sealed record CheckDoneView(Guid Id, string Check, string Title, string? Position, string Name, CheckOutcome Outcome, Instant At, string By, Guid? Defect, string? TakenBack);

/// <param name="Expected">The lowest that is expected, not a measured one.</param>
public sealed record TemperatureView(int Celsius, bool Expected, Instant From, Instant Until, string By, string Words)
{
    internal static TemperatureView Of(StandTemperature told) => new(told.Celsius, told.IsExpected, told.From, told.Until, told.ByName, told.Words);
}

/// <summary>A defect that is not closed.</summary>
public sealed record StandingItem(Guid Id, int Number, string Position, Symptom Symptom);

/// <summary>How much is due on a walk-round, where many tails are looked at.</summary>
/// <param name="Cold">Those that guard against freezing, by title.</param>
/// <param name="Coldest">The cold that calls for them, in words.</param>
public sealed record RoundCount(int Due, int Overdue, int Minutes, int NotFitting, IReadOnlyList<string> Cold, string? Coldest)
{
    /// <summary>Null where nothing is due.</summary>
    internal static RoundCount? Of(Round? round, Instant now)
    {
        if (round is not { Slots: [_, ..] slots })
        {
            return null;
        }

        string[] cold = [.. slots.Where(slot => slot.Due.Reason == CheckReason.Cold).Select(slot => slot.Due.Check.Terms.Title).Distinct()];
        return new RoundCount(slots.Count, slots.Count(slot => slot.Due.IsOverdue(now)), slots.Sum(slot => slot.Due.Check.Terms.Minutes), slots.Count(slot => !slot.Fits), cold, cold.Length == 0 ? null : round.Coldest?.Words);
    }

    public string Words => $"{Due} {(Due == 1 ? "check" : "checks")} due, {Minutes} min{(Overdue > 0 ? $", {Overdue} overdue" : "")}{(NotFitting > 0 ? $"; {NotFitting} without time in this stay" : "")}";
}
