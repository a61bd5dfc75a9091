using Drainboard.Domain.Accounts;
using NodaTime;

namespace Drainboard.Domain.Records;

/// <summary>
/// A person's signature on a deferral or a release: who, the certificate or authorisation number and its kind
/// (14 CFR 43.9(a)(4)), and when. Made only by <see cref="By"/>, so that none exists without a number.
/// </summary>
public sealed record Signature(PersonId Person, string Name, string Number, string Kind, string Organisation, Instant At)
{
    /// <param name="zone">The zone in which the day of an expiry is counted: that of the station where it is signed.</param>
    public static Refusal? WhyNot(Actor actor, DateTimeZone zone, Instant now) => actor.Authorisation switch
    {
        null or { Number: "" } => new Refusal("no-authorisation-number", $"{actor.Name} has no certificate or authorisation number on file, and a signature carries one (14 CFR 43.9(a)(4)). An administrator enters it on Set-up."),
        { Kind: "" } => new Refusal("no-authorisation-kind", $"The kind of {actor.Name}'s certificate or authorisation is not on file, and a signature says it (14 CFR 43.9(a)(4)). An administrator enters it on Set-up."),
        { } held when !held.IsGoodOn(now.InZone(zone).Date) => new Refusal("authorisation-expired", $"{actor.Name}'s authorisation {held.Number} was good until {held.LastDay:d MMM uuuu}. Somebody with a current one signs."),
        _ => null,
    };

    /// <summary>The signature; ask <see cref="WhyNot"/> first.</summary>
    public static Signature By(Actor actor, Instant now) => actor.Authorisation is { } held
        ? new Signature(actor.Person, actor.Name, held.Number, held.Kind, held.Organisation, now)
        : throw new InvalidOperationException("Ask WhyNot before signing.");
}
