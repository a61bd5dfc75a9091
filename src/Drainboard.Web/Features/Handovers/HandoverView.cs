using Drainboard.Domain.Handovers;
using NodaTime;

namespace Drainboard.Web.Features.Handovers;

/// <summary>A station's handover as it stands now, and the last one that was signed.</summary>
/// <param name="From">When this shift began.</param>
/// <param name="Hash">What a lead who signs says to have seen.</param>
public sealed record HandoverView(string Station, string StationName, string Zone, Instant Now, Instant From, HandoverContent Content, string Hash, SignedHandover? Last);

/// <summary>A handover that was signed: what stood then.</summary>
/// <param name="Holds">Its content gives the hash that was signed.</param>
public sealed record SignedHandover(Guid Id, Instant From, Instant SignedAt, HandoverContent Content, string Hash, string Notes, string OutgoingName, Guid Outgoing, string? IncomingName, Instant? TakenAt, bool Holds)
{
    public static SignedHandover Of(Handover handover) => new(handover.Id.Value, handover.From, handover.SignedAt, handover.Content, handover.ContentHash, handover.Notes, handover.Outgoing.Name, handover.Outgoing.Person.Value, handover.Incoming?.Name, handover.Incoming?.At, handover.Content.Hash() == handover.ContentHash);
}
