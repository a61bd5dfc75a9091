using System.Text.RegularExpressions;
using NodaTime;

namespace Drainboard.Domain.PotableWater;

/// <summary>One version of a drinking water programme. A version never changes once it is saved; tails follow the newest of their programme's code.</summary>
public sealed partial class WaterProgramme
{
    private WaterProgramme()
    {
    }

    /// <summary>Its name for programs: lower-case letters, digits and hyphens, up to 40.</summary>
    public string Code { get; private set; } = "";

    /// <summary>From 1, without gaps.</summary>
    public int Number { get; private set; }

    public WaterTerms Terms { get; private set; } = new("", false, 1, 1, 1, false, "", "", []);

    public Instant SavedAt { get; private set; }

    public string SavedBy { get; private set; } = "";

    public string Words => $"{Terms.Title}, version {Number}";

    /// <summary>Makes the next version. On null <paramref name="made"/> is the version to store.</summary>
    /// <param name="before">The newest version there is.</param>
    public static Refusal? Save(string code, WaterTerms terms, WaterProgramme? before, string by, Instant now, out WaterProgramme? made)
    {
        made = null;
        if (!CodeForm().IsMatch(code))
        {
            return new Refusal("water-code", "A programme's code is 1 to 40 lower-case letters, digits and hyphens, for example \"long-haul\".");
        }

        if (terms.WhyNot() is { } no)
        {
            return no;
        }

        if (before is not null && before.Terms with { Items = [] } == terms with { Items = [] } && before.Terms.Items.SequenceEqual(terms.Items))
        {
            return new Refusal("water-unchanged", $"Version {before.Number} says just this. Nothing was saved.");
        }

        made = new WaterProgramme { Code = code, Number = (before?.Number ?? 0) + 1, Terms = terms, SavedAt = now, SavedBy = by };
        return null;
    }

    [GeneratedRegex("^[a-z0-9][a-z0-9-]{0,39}$")]
    private static partial Regex CodeForm();
}
