using NodaTime;

namespace Drainboard.Domain.Records;

/// <summary>Where something stands in an aircraft log: which log, page, line, and the time of that entry.</summary>
public sealed record LogReference(LogBook Book, string Page, string Line, Instant LoggedAt)
{
    public override string ToString() => $"{(Book == LogBook.Cabin ? "Cabin log" : "Tech log")} {Page}-{Line}";
}
