using Drainboard.Domain;
using Drainboard.Domain.Records;
using Drainboard.Web.Shell;
using NodaTime;

namespace Drainboard.Web.Features.Items;

/// <summary>What every form about a defect carries: the id of this wish, the version that the person saw, and a log line where one is asked for.</summary>
public class ItemInput
{
    public Guid CommandId { get; set; }

    public long Version { get; set; }

    /// <summary>The zone in which the form's times were shown: an aircraft may have moved on before it is sent.</summary>
    public string? Zone { get; set; }

    /// <summary>The signing code, on forms that are signed; never kept on the device and never shown again.</summary>
    public string? SigningCode { get; set; }

    public string? LogBook { get; set; }

    public string? LogPage { get; set; }

    public string? LogLine { get; set; }

    public string? LogAt { get; set; }

    /// <summary>The log line as entered; null when page and line were left empty. A time that is missing stands as the end of time, which the rule for log lines refuses in words.</summary>
    public LogEntry? Log(string zone) =>
        string.IsNullOrWhiteSpace(LogPage) && string.IsNullOrWhiteSpace(LogLine)
            ? null
            : new LogEntry(Enum.TryParse<LogBook>(LogBook, out var book) ? book : Domain.Records.LogBook.Technical, LogPage ?? "", LogLine ?? "", Times.FromInput(LogAt, zone) ?? Instant.MaxValue);
}
