using System.Globalization;

namespace Drainboard.Web.Hosting;

/// <summary>The culture in which the program speaks: English, 24-hour times, a point in decimals.</summary>
public static class Words
{
    public static CultureInfo Culture { get; } = CultureInfo.InvariantCulture;
}
