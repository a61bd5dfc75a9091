using NodaTime;

namespace Drainboard.Data.Records;

/// <summary>That something changed, by sequence: what open pages follow. Says where to look again, never what it says now.</summary>
public sealed class Change
{
    private Change()
    {
    }

    public Change(string kind, Guid subject, Instant at) => (Kind, Subject, At) = (kind, subject, at);

    public long Sequence { get; private set; }

    public string Kind { get; private set; } = "";

    public Guid Subject { get; private set; }

    public Instant At { get; private set; }
}
