using NodaTime;

namespace Drainboard.Domain.Accounts;

/// <summary>
/// The certificate or company authorisation under which a person signs: its number and its kind (14 CFR 43.9(a)(4): both
/// belong to a signature), the organisation and the reference of its approval that it is used under (145.A.50(b), CASR 42.760),
/// the last day on which it is good (included; null where it has no end), and how far it reaches.
/// </summary>
public sealed record Authorisation(string Number, string Kind, string Organisation, LocalDate? LastDay)
{
    /// <summary>The reference of the organisation's approval; empty where it is not on file.</summary>
    public string Approval { get; init; } = "";

    public AuthorisationLimits Limits { get; init; } = AuthorisationLimits.None;

    /// <summary>Kind, number, organisation and approval, as they stand under a signature.</summary>
    public string Words => WordsOf(Kind, Number, Organisation, Approval);

    public static string WordsOf(string kind, string number, string organisation, string approval) =>
        $"{kind} {number}{(organisation.Length > 0 ? $", {organisation}" : "")}{(approval.Length > 0 ? $", approval {approval}" : "")}";

    /// <summary>Whether it is good on a day, counted in the zone where the signature is given.</summary>
    public bool IsGoodOn(LocalDate day) => LastDay is null || day <= LastDay;
}
