using Drainboard.Domain.Accounts;
using NodaTime;

namespace Drainboard.Domain.Records;

/// <summary>
/// A person's signature on a deferral or a release: who, the certificate or authorisation number and its kind
/// (14 CFR 43.9(a)(4)), and when. Made only by <see cref="By"/>, so that none exists without a number.
/// </summary>
public sealed record Signature(PersonId Person, string Name, string Number, string Kind, string Organisation, Instant At)
{
    /// <summary>What goes on record with a signature: that it was meant as one.</summary>
    public const string Intent = "signed by entering the person's own signing code";

    /// <summary>The organisation's approval that it was given under; empty where none is on file.</summary>
    public string Approval { get; init; } = "";

    public static Refusal? WhyNot(Actor actor, SigningPlace place, Instant now) => actor.Authorisation switch
    {
        null or { Number: "" } => new Refusal("no-authorisation-number", $"{actor.Name} has no certificate or authorisation number on file, and a signature carries one (14 CFR 43.9(a)(4)). An administrator enters it on Set-up."),
        { Kind: "" } => new Refusal("no-authorisation-kind", $"The kind of {actor.Name}'s certificate or authorisation is not on file, and a signature says it (14 CFR 43.9(a)(4)). An administrator enters it on Set-up."),
        { Approval: "" } or { Organisation: "" } when actor.Roles.Contains(Role.ContractTechnician) => new Refusal("no-approval", $"A contract technician signs under their own organisation's approval, and {actor.Name}'s is not on file. An administrator enters it on Set-up."),
        { } held when !held.IsGoodOn(now.InZone(place.Zone).Date) => new Refusal("authorisation-expired", $"{actor.Name}'s authorisation {held.Number} was good until {held.LastDay:d MMM uuuu}. Somebody with a current one signs."),
        { } held => held.Limits.WhyNot(held.Number, place),
    };

    /// <summary>The signature; ask <see cref="WhyNot"/> first.</summary>
    public static Signature By(Actor actor, Instant now) => actor.Authorisation is { } held
        ? new Signature(actor.Person, actor.Name, held.Number, held.Kind, held.Organisation, now) { Approval = held.Approval }
        : throw new InvalidOperationException("Ask WhyNot before signing.");
}
