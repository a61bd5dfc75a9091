using System.Diagnostics.CodeAnalysis;

namespace Drainboard.Web.Features.Door;

/// <summary>One of our named values in an address, written as in a body (camelCase) or any other case.</summary>
public readonly record struct Choice<T>(T Value)
    where T : struct, Enum
{
    [SuppressMessage("Design", "CA1000:Do not declare static members on generic types", Justification = "The framework looks for it here.")]
    public static bool TryParse(string? text, IFormatProvider? culture, out Choice<T> choice)
    {
        var known = Enum.TryParse<T>(text, ignoreCase: true, out var value) && Enum.IsDefined(value);
        choice = new Choice<T>(value);
        return known;
    }
}
