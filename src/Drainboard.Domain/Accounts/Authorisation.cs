using NodaTime;

namespace Drainboard.Domain.Accounts;

/// <summary>
/// The certificate or company authorisation under which a person signs: its number and its kind (14 CFR 43.9(a)(4): both
/// belong to a signature), the organisation whose approval it is used under, and the last day on which it is good
/// (included; null where it has no end).
/// </summary>
public sealed record Authorisation(string Number, string Kind, string Organisation, LocalDate? LastDay)
{
    /// <summary>Whether it is good on a day, counted in the zone where the signature is given.</summary>
    public bool IsGoodOn(LocalDate day) => LastDay is null || day <= LastDay;
}
