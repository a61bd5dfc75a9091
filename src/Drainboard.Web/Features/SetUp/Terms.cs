using System.Globalization;
using System.Reflection;
using Drainboard.Domain.Records;

namespace Drainboard.Web.Features.SetUp;

/// <summary>A value of numbers that people may change one by one: its members in order, as text and back.</summary>
internal static class Terms
{
    private const double Largest = 1_000_000;

    public static IReadOnlyList<PropertyInfo> Of<TTerms>() => [.. typeof(TTerms).GetProperties(BindingFlags.Public | BindingFlags.Instance).Where(member => member.CanWrite)];

    public static string Say<TTerms>(PropertyInfo member, TTerms terms) => Convert.ToString(member.GetValue(terms), CultureInfo.InvariantCulture)!;

    /// <summary>Null, and the member that cannot be read, where a text is no number that fits.</summary>
    public static TTerms? Read<TTerms>(IReadOnlyDictionary<string, string> values, out string? wrong)
        where TTerms : class, new()
    {
        var terms = new TTerms();
        foreach (var member in Of<TTerms>())
        {
            if (!double.TryParse(values[member.Name], NumberStyles.Float, CultureInfo.InvariantCulture, out var value) || (member.PropertyType == typeof(int) && value != Math.Floor(value)) || Math.Abs(value) > Largest)
            {
                wrong = member.Name;
                return null;
            }

            member.SetValue(terms, Convert.ChangeType(value, member.PropertyType, CultureInfo.InvariantCulture));
        }

        wrong = null;
        return terms;
    }

    /// <summary>What was changed, with each value before and after.</summary>
    public static Fact Changed<TTerms>(string kind, string words, TTerms before, TTerms after)
    {
        var changed = Of<TTerms>().Where(member => !Equals(member.GetValue(before), member.GetValue(after))).ToArray();
        var fact = new Fact(ChainKey.Operator, kind, Guid.Empty, $"{words}: {(changed.Length == 0 ? "nothing" : string.Join(", ", changed.Select(member => $"{member.Name} {Say(member, before)} to {Say(member, after)}")))}.");
        foreach (var member in changed)
        {
            fact.With(member.Name, Say(member, after));
        }

        return fact;
    }
}
