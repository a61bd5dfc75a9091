using Drainboard.Domain.Fleet;

namespace Drainboard.Domain.Deferrals;

/// <summary>
/// What an item says. <see cref="IntervalDays"/> is the operator's own number of days where the document gives one (always for
/// category A counted in days); null takes the policy's. An empty list of layouts means every layout. <see cref="LeakAllowed"/>
/// is false where relief says "no leaks allowed". <see cref="RequiredOperableBy"/> names an airworthiness directive that requires the thing
/// to be operable: then nothing may carry it (14 CFR 121.628(b)(2)).
/// </summary>
public sealed record BasisTerms(
    string Title,
    string Revision,
    Category? Category,
    int? IntervalDays,
    IReadOnlyList<FixtureKind> Kinds,
    IReadOnlyList<string> Layouts,
    int Installed,
    int Required,
    bool LeakAllowed,
    bool PlacardRequired,
    string PlacardText,
    bool ControlRequired,
    bool CertifyingRequired,
    IReadOnlyList<BasisCondition> Conditions,
    IReadOnlyList<ClockLimit>? Limits = null,
    string RequiredOperableBy = "")
{
    /// <summary>The limits of a category A item beside <see cref="IntervalDays"/>: flight days, flight hours, flight cycles, a fixed date.</summary>
    public IReadOnlyList<ClockLimit> Limits { get; init; } = Limits ?? [];

    /// <summary>Whether flights move its clock.</summary>
    public bool CountsFlights => Limits.Any(limit => limit.Unit.NeedsSectors());

    public static BasisTerms Empty { get; } = new("", "", null, null, [], [], 0, 0, false, false, "", true, true, []);

    /// <summary>Records compare lists by reference; these need their content.</summary>
    public bool Equals(BasisTerms? other) => ReferenceEquals(this, other) || (other is not null && SameScalars(other) && ListsEqual(other));

    public override int GetHashCode() => HashCode.Combine(Title, Revision, Category, IntervalDays, Installed, Required);

    private bool SameScalars(BasisTerms other) =>
        (Title, Revision, Category, IntervalDays, Installed, Required, LeakAllowed, PlacardRequired) == (other.Title, other.Revision, other.Category, other.IntervalDays, other.Installed, other.Required, other.LeakAllowed, other.PlacardRequired)
        && (PlacardText, ControlRequired, CertifyingRequired, RequiredOperableBy) == (other.PlacardText, other.ControlRequired, other.CertifyingRequired, other.RequiredOperableBy);

    private bool ListsEqual(BasisTerms other) =>
        Kinds.SequenceEqual(other.Kinds) && Layouts.SequenceEqual(other.Layouts) && Conditions.SequenceEqual(other.Conditions) && Limits.SequenceEqual(other.Limits);
}
