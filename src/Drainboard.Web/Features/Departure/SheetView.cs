using System.Security.Cryptography;
using System.Text;
using Drainboard.Domain.Defects;
using Drainboard.Domain.Departure;
using Drainboard.Web.Features.Deferrals;
using Drainboard.Web.Features.Fleet;
using NodaTime;
using NodaTime.Text;

namespace Drainboard.Web.Features.Departure;

/// <summary>One carried item as the sheet lists it.</summary>
/// <param name="MayDepart">Whether its clock allows this departure.</param>
/// <param name="ToDo">Conditions to be done before this departure.</param>
public sealed record SheetItem(Guid Defect, int Number, string Position, string FixtureName, string Symptom, string Basis, string? Log, Instant? DueAt, bool MayDepart, string Placard, IReadOnlyList<ConditionView> Conditions, IReadOnlyList<string> ToDo);

/// <summary>Something not settled yet: it is neither carried nor closed.</summary>
public sealed record UnsettledItem(Guid Defect, int Number, string FixtureName, string Words, DefectState State);

/// <summary>What else the crew must know of: a part that may stay for a while only, or something left in another state than usual.</summary>
/// <param name="Forbids">It may not depart with it.</param>
public sealed record SheetNote(string Words, bool Forbids);

public sealed record AcknowledgementView(SheetSigner Signer, string Name, Instant At, bool OfThisSheet);

/// <summary>Everything that one aircraft carries into one departure.</summary>
/// <param name="FlightKnown">Whether the flight after this stay is known; without it only the departure is held against the clocks.</param>
/// <param name="Hash">SHA-256 of what it says; an acknowledgement names it.</param>
public sealed record SheetView(string Tail, string Layout, Guid? Turn, TurnView? Stay, string Zone, Instant Now, bool FlightKnown, IReadOnlyList<SheetItem> Carried, IReadOnlyList<UnsettledItem> Unsettled, string Hash, IReadOnlyList<AcknowledgementView> Acknowledged, IReadOnlyList<SheetNote> Notes)
{
    public bool IsAcknowledgedBy(SheetSigner signer) => Acknowledged.Any(one => one.Signer == signer && one.OfThisSheet);

    /// <summary>What must be read anew when it changes; estimates of time are not part of it.</summary>
    public static string HashOf(Guid? turn, int returns, IEnumerable<SheetItem> carried, IEnumerable<UnsettledItem> unsettled, IEnumerable<SheetNote> notes)
    {
        var text = new StringBuilder().Append(turn).Append('|').Append(returns);
        foreach (var item in carried)
        {
            text.Append('\n').AppendJoin('|', item.Defect, item.Basis, item.DueAt is { } due ? InstantPattern.ExtendedIso.Format(due) : "", item.MayDepart, item.Placard, item.Log, string.Join(';', item.ToDo), string.Join(';', item.Conditions.Select(condition => $"{condition.Words} {condition.At}")));
        }

        foreach (var item in unsettled)
        {
            text.Append('\n').AppendJoin('|', item.Defect, item.State);
        }

        foreach (var note in notes)
        {
            text.Append('\n').AppendJoin('|', note.Words, note.Forbids);
        }

        return Convert.ToHexStringLower(SHA256.HashData(Encoding.UTF8.GetBytes(text.ToString())));
    }
}
