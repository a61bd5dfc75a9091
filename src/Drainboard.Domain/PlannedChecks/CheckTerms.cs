using Drainboard.Domain.Fleet;
using Drainboard.Domain.TurnFit;

namespace Drainboard.Domain.PlannedChecks;

/// <summary>
/// What one planned check asks for, and how often. The operator's maintenance programme decides both: an interval here is the operator's own
/// entry, never ours, and the named manual says how it is done (145.A.45: maintenance to approved data).
/// </summary>
/// <param name="Title">In a few words, as it stands on the walk-round.</param>
/// <param name="Look">What to look at, and what is good.</param>
/// <param name="Kind">Done once for every fixture of this kind; null: once for the whole aircraft.</param>
/// <param name="Place">Where hands and eyes are needed.</param>
/// <param name="EveryDays">Due so many days after it was done last; 0: at every stay.</param>
/// <param name="Minutes">Hands-on minutes for one fixture, or for the aircraft.</param>
/// <param name="Manual">Where it is said how.</param>
/// <param name="Caution">What to guard against, shown at the check.</param>
/// <param name="Layout">Code of the layout that it is for; empty: every layout.</param>
/// <param name="BelowCelsius">Only where it is, or is expected to be, colder than this on the stand during the stay; null: whatever the weather.</param>
/// <param name="StayOverMinutes">Only at stays longer than this; null: at any.</param>
/// <param name="IsCleaning">It opens and cleans the fixture: a job that opened it and found something counts as well, and pours that fall towards slow call for it early.</param>
public sealed record CheckTerms(string Title, string Look, FixtureKind? Kind, CabinPlace Place, int EveryDays, int Minutes, string Manual, string Caution = "", string Layout = "", int? BelowCelsius = null, int? StayOverMinutes = null, bool IsCleaning = false)
{
    public const int LongestTitle = 80, LongestWords = 400, LongestManual = 200;

    /// <summary>The last day of a long C check cycle is nearer than this (our choice).</summary>
    public const int MostDays = 1100;

    /// <summary>It guards against freezing, and goes before everything else.</summary>
    public bool IsForCold => BelowCelsius is not null;

    /// <summary>When it is due, in words.</summary>
    public string Rhythm => string.Join(", ", new[]
    {
        EveryDays switch { 0 => "at every stay", 1 => "every day", var days => $"every {days} days" },
        StayOverMinutes is { } minutes ? $"at stays over {minutes} min" : null,
        BelowCelsius is { } celsius ? $"below {celsius} °C" : null,
        IsCleaning ? "or when its pours call for it" : null,
        Layout.Length > 0 ? $"layout {Layout}" : null,
    }.OfType<string>());

    /// <summary>Why this cannot be a planned check, or null.</summary>
    public Refusal? WhyNot() =>
        Title.Trim().Length is 0 or > LongestTitle ? new Refusal("check-title", $"Give the check a title of up to {LongestTitle} characters.")
        : Look.Trim().Length is 0 or > LongestWords ? new Refusal("check-look", $"Say what to look at and what is good, in up to {LongestWords} characters.")
        : Caution.Trim().Length > LongestWords ? new Refusal("check-caution", $"A caution has up to {LongestWords} characters.")
        : Manual.Trim().Length is 0 or > LongestManual ? new Refusal("check-manual", $"Name the manual or programme that says how it is done, in up to {LongestManual} characters.")
        : EveryDays is < 0 or > MostDays ? new Refusal("check-days", $"It is due every 1 to {MostDays} days, or 0 for every stay.")
        : Minutes is < 1 or > 240 ? new Refusal("check-minutes", "It takes 1 to 240 minutes for one fixture.")
        : BelowCelsius is < -40 or > 15 ? new Refusal("check-cold", "The temperature below which it is due lies between -40 and 15 °C.")
        : StayOverMinutes is < 0 or > 2880 ? new Refusal("check-stay", "Stays longer than 0 to 2880 minutes can be named.")
        : IsCleaning && Kind is not (FixtureKind.Strainer or FixtureKind.DrainLine or FixtureKind.DrainMast) ? new Refusal("check-cleaning", "Strainers, drain lines and masts are what pours can call to be cleaned. Choose one of them, or untick cleaning.")
        : IsCleaning && EveryDays == 0 ? new Refusal("check-cleaning-days", "A cleaning has an interval of its own: say every how many days.")
        : Kind is { } kind && CabinPlaces.Of(kind) != Place ? new Refusal("check-place", $"A {kind.Words()} is worked {(CabinPlaces.Of(kind) switch { CabinPlace.Outside => "outside", CabinPlace.Galley => "in the galley", _ => "in the lavatory" })}. Choose that place.")
        : null;
}
