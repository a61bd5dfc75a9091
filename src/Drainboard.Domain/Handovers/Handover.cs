using Drainboard.Domain.Accounts;
using Drainboard.Domain.Fleet;
using Drainboard.Domain.Records;
using NodaTime;

namespace Drainboard.Domain.Handovers;

/// <summary>
/// The handover of one station from one shift to the next: what stood when the outgoing lead signed, kept as it was, and who took it over.
/// That a shift is handed over with tasks and their state is required of a maintenance organisation (145.A.47(c), from memory); the form is ours.
/// </summary>
public sealed class Handover
{
    public const int LongestNotes = 4000;

    private Handover()
    {
    }

    public HandoverId Id { get; private set; }

    public StationCode Station { get; private set; }

    /// <summary>When the shift began: with the handover before, or half a day back.</summary>
    public Instant From { get; private set; }

    public HandoverContent Content { get; private set; } = new([], [], [], [], [], []);

    public string ContentHash { get; private set; } = "";

    public string Notes { get; private set; } = "";

    public HandoverSigner Outgoing { get; private set; } = new(default, "", default);

    /// <summary>The lead who took over; null while nobody has.</summary>
    public HandoverSigner? Incoming { get; private set; }

    public Instant SignedAt { get; private set; }

    public long Version { get; private set; }

    /// <param name="seenHash">The hash of what the lead saw: what changed since is read before it is signed.</param>
    public static Decision Sign(HandoverId id, StationCode station, Instant from, HandoverContent content, string seenHash, string notes, Actor by, Instant now, out Handover? made)
    {
        made = null;
        if (notes.Length > LongestNotes)
        {
            return new Refusal("too-long", $"The notes have {notes.Length} characters; {LongestNotes} fit. Shorten them.");
        }

        var hash = content.Hash();
        if (hash != seenHash)
        {
            return new Refusal("handover-changed", "Something changed on the station while you wrote. The page shows it as it stands now; your notes are kept. Read it, then sign again.");
        }

        made = new Handover { Id = id, Station = station, From = from, Content = content, ContentHash = hash, Notes = notes.Trim(), Outgoing = new HandoverSigner(by.Person, by.Name, now), SignedAt = now };
        return new Fact(ChainKey.For(station), "handover.signed", id.Value, $"Shift handed over: {content.Open.Count} open, {content.Clocks.Count} clocks lapse in the next shift, {content.Disturbed.Count} things not in their usual state.{(made.Notes.Length > 0 ? $" Notes: {made.Notes}" : "")}")
            .With("content", hash).With("from", (Instant?)from).With("intent", Signature.Intent);
    }

    public Decision TakeOver(Actor by, Instant now)
    {
        if (Incoming is { } before)
        {
            return before.Person == by.Person ? new Decision.AlreadySo("You took this over.") : new Refusal("taken-over", $"{before.Name} took this over already.");
        }

        if (by.Person == Outgoing.Person)
        {
            return new Refusal("own-handover", "You handed over yourself. The lead of the next shift takes over.");
        }

        Incoming = new HandoverSigner(by.Person, by.Name, now);
        return new Fact(ChainKey.For(Station), "handover.taken", Id.Value, "Shift taken over.").With("content", ContentHash).With("intent", Signature.Intent);
    }
}
