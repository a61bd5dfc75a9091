using Drainboard.Domain.Reliability;

namespace Drainboard.Web.Features.Reliability;

/// <summary>One month of a fleet. Rates are for a thousand of the unit.</summary>
/// <param name="Running3">Of this month and the two before it, events over exposure.</param>
/// <param name="Running12">Of this month and the eleven before it.</param>
/// <param name="Level">Above this it is an alert; from the twelve months before, which the month itself is no part of.</param>
public sealed record MonthLine(string Month, int Events, double Exposure, double? Rate, double? Low, double? High, double? Running3, double? Running12, double? Level, bool Alert);

/// <param name="Unit">Sectors are departures.</param>
/// <param name="Lines">Whole months, UTC, the oldest first.</param>
public sealed record MonthsView(ExposureUnit Unit, AlertMethod Method, string MethodWords, IReadOnlyList<MonthLine> Lines);
