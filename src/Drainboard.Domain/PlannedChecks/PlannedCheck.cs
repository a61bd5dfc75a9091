using System.Text.RegularExpressions;
using NodaTime;

namespace Drainboard.Domain.PlannedChecks;

/// <summary>One version of a planned check. A version never changes once it is saved; what was done keeps the version that it was done to.</summary>
public sealed partial class PlannedCheck
{
    private PlannedCheck()
    {
    }

    /// <summary>Its name for programs: lower-case letters, digits and hyphens, up to 40. It stays from version to version.</summary>
    public string Code { get; private set; } = "";

    /// <summary>From 1, without gaps.</summary>
    public int Number { get; private set; }

    public CheckTerms Terms { get; private set; } = new("", "", null, default, 0, 1, "");

    /// <summary>It is asked for no more. A later version may ask for it again.</summary>
    public bool IsRetired { get; private set; }

    /// <summary>When the check was first asked for: what was never done counts from then.</summary>
    public Instant Since { get; private set; }

    public Instant SavedAt { get; private set; }

    public string SavedBy { get; private set; } = "";

    /// <summary>Makes the next version. On null <paramref name="made"/> is the version to store.</summary>
    /// <param name="before">The newest version there is.</param>
    public static Refusal? Save(string code, CheckTerms terms, bool isRetired, PlannedCheck? before, string by, Instant now, out PlannedCheck? made)
    {
        made = null;
        if (!CodeForm().IsMatch(code))
        {
            return new Refusal("check-code", "A check's code is 1 to 40 lower-case letters, digits and hyphens, for example \"mast-heater\".");
        }

        if (terms.WhyNot() is { } no)
        {
            return no;
        }

        if (before is null && isRetired)
        {
            return new Refusal("check-retired", "A new check cannot be retired at once. Leave it out instead.");
        }

        if (before is not null && (before.Terms, before.IsRetired) == (terms, isRetired))
        {
            return new Refusal("check-unchanged", $"Version {before.Number} says just this. Nothing was saved.");
        }

        made = new PlannedCheck { Code = code, Number = (before?.Number ?? 0) + 1, Terms = terms, IsRetired = isRetired, Since = before is null or { IsRetired: true } ? now : before.Since, SavedAt = now, SavedBy = by };
        return null;
    }

    [GeneratedRegex("^[a-z0-9][a-z0-9-]{0,39}$")]
    private static partial Regex CodeForm();
}
