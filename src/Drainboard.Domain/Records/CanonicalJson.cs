using System.Globalization;
using System.Text;

namespace Drainboard.Domain.Records;

/// <summary>
/// Writes a record payload in the canonical form of RFC 8785 (JSON Canonicalization Scheme): members ordered by their UTF-16
/// code units, no white space, the shortest escapes, numbers as ECMAScript writes them. Takes text, whole numbers up to 2^53 - 1 in size, doubles, booleans,
/// null, lists and objects of these; a value of any other kind is a bug and throws. A <see cref="Fact"/> holds no doubles: what is measured goes in as a whole number of a small unit.
/// </summary>
public static class CanonicalJson
{
    private const long LargestExact = (1L << 53) - 1;

    public static string Write(object? value)
    {
        var text = new StringBuilder();
        WriteValue(text, value);
        return text.ToString();
    }

    private static void WriteObject(StringBuilder text, IEnumerable<KeyValuePair<string, object>> members)
    {
        text.Append('{');
        var first = true;
        foreach (var (name, value) in members.OrderBy(member => member.Key, StringComparer.Ordinal))
        {
            if (!first)
            {
                text.Append(',');
            }

            first = false;
            WriteText(text, name);
            text.Append(':');
            WriteValue(text, value);
        }

        text.Append('}');
    }

    private static void WriteList(StringBuilder text, IEnumerable<object?> values)
    {
        text.Append('[');
        var first = true;
        foreach (var value in values)
        {
            if (!first)
            {
                text.Append(',');
            }

            first = false;
            WriteValue(text, value);
        }

        text.Append(']');
    }

    // ECMA-262, Number::toString, which RFC 8785 section 3.2.2.3 refers to: the shortest digits that give the double again, plain from 1e-7 up to 1e21.
    private static void WriteNumber(StringBuilder text, double number)
    {
        if (!double.IsFinite(number))
        {
            throw new ArgumentException("There is no JSON number for this (RFC 8785, section 3.2.2.3).", nameof(number));
        }

        if (number == 0)
        {
            text.Append('0');
            return;
        }

        // "-d.dddE+xxx", shortest.
        var shortest = number.ToString("E16", CultureInfo.InvariantCulture);
        for (var digitsAfter = 0; digitsAfter < 17; digitsAfter++)
        {
            var tried = number.ToString($"E{digitsAfter}", CultureInfo.InvariantCulture);
            if (double.Parse(tried, CultureInfo.InvariantCulture).Equals(number))
            {
                shortest = tried;
                break;
            }
        }

        var (mantissa, exponent) = (shortest[..shortest.IndexOf('E', StringComparison.Ordinal)], int.Parse(shortest[(shortest.IndexOf('E', StringComparison.Ordinal) + 1)..], NumberStyles.AllowLeadingSign, CultureInfo.InvariantCulture));
        var digits = mantissa.TrimStart('-').Replace(".", "", StringComparison.Ordinal).TrimEnd('0');
        var (count, point) = (digits.Length, exponent + 1);
        text.Append(number < 0 ? "-" : "").Append((count, point) switch
        {
            _ when count <= point && point <= 21 => digits + new string('0', point - count),
            _ when point is > 0 and <= 21 => $"{digits[..point]}.{digits[point..]}",
            _ when point is > -6 and <= 0 => $"0.{new string('0', -point)}{digits}",
            _ => $"{digits[..1]}{(count > 1 ? $".{digits[1..]}" : "")}e{(point > 0 ? "+" : "-")}{Math.Abs(point - 1)}",
        });
    }

    private static void WriteValue(StringBuilder text, object? value)
    {
        switch (value)
        {
            case string words:
                WriteText(text, words);
                break;
            case long number when number is >= -LargestExact and <= LargestExact:
                text.Append(number.ToString(CultureInfo.InvariantCulture));
                break;
            case bool yes:
                text.Append(yes ? "true" : "false");
                break;
            case double number:
                WriteNumber(text, number);
                break;
            case null:
                text.Append("null");
                break;
            case IEnumerable<KeyValuePair<string, object>> members:
                WriteObject(text, members);
                break;
            case IEnumerable<object?> values:
                WriteList(text, values);
                break;
            default:
                throw new ArgumentException($"Canonical JSON holds text, numbers, yes or no, lists and objects, not {value.GetType().Name} {value}.", nameof(value));
        }
    }

    private static void WriteText(StringBuilder text, string words)
    {
        text.Append('"');
        for (var at = 0; at < words.Length; at++)
        {
            var c = words[at];
            if (char.IsSurrogate(c) && !(char.IsHighSurrogate(c) && at + 1 < words.Length && char.IsLowSurrogate(words[at + 1])) && !(char.IsLowSurrogate(c) && at > 0 && char.IsHighSurrogate(words[at - 1])))
            {
                throw new ArgumentException("Half of a surrogate pair is not text (RFC 8785, section 3.2.2.2).", nameof(words));
            }

            _ = c switch
            {
                '"' => text.Append("\\\""),
                '\\' => text.Append("\\\\"),
                '\b' => text.Append("\\b"),
                '\f' => text.Append("\\f"),
                '\n' => text.Append("\\n"),
                '\r' => text.Append("\\r"),
                '\t' => text.Append("\\t"),
                < ' ' => text.Append(CultureInfo.InvariantCulture, $"\\u{(int)c:x4}"),
                _ => text.Append(c),
            };
        }

        text.Append('"');
    }
}
