using System.Globalization;
using System.Text;

namespace Drainboard.Domain.Records;

/// <summary>
/// Writes a record payload in the canonical form of RFC 8785 (JSON Canonicalization Scheme): members ordered by their UTF-16
/// code units, no white space, the shortest escapes. Takes text, whole numbers up to 2^53 - 1 in size, booleans and objects of these; a
/// value of any other kind is a bug and throws, because a double has no place in a record.
/// </summary>
public static class CanonicalJson
{
    private const long LargestExact = (1L << 53) - 1;

    public static string Write(IReadOnlyDictionary<string, object> members)
    {
        var text = new StringBuilder();
        WriteObject(text, members);
        return text.ToString();
    }

    private static void WriteObject(StringBuilder text, IReadOnlyDictionary<string, object> members)
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

    private static void WriteValue(StringBuilder text, object value)
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
            case IReadOnlyDictionary<string, object> members:
                WriteObject(text, members);
                break;
            default:
                throw new ArgumentException($"A record holds text, whole numbers and yes or no, not {value.GetType().Name} {value}.", nameof(value));
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
