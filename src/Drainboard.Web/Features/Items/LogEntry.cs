using Drainboard.Domain;
using Drainboard.Domain.Records;
using Drainboard.Web.Hosting;
using NodaTime;

namespace Drainboard.Web.Features.Items;

/// <summary>A log line as it is entered: which log, page, line and the time of the entry.</summary>
public sealed record LogEntry(LogBook Book, string Page, string Line, Instant LoggedAt)
{
    public const int Longest = 20;

    public LogReference ToReference() => new(Book, Page.Trim(), Line.Trim(), MicrosecondClock.Cut(LoggedAt));

    public Refusal? WhyNot(Instant now) =>
        Page.Trim().Length is 0 or > Longest || Line.Trim().Length is 0 or > Longest
            ? new Refusal("log-page", $"A log reference has a page and a line (up to {Longest} characters each).")
        : LoggedAt > now + Domain.Defects.Report.ClockTolerance
            ? new Refusal("logged-in-future", "The time of the log entry is missing or lies in the future. Enter the time that stands in the log.")
        : null;
}
