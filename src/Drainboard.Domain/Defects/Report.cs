using Drainboard.Domain.Accounts;
using Drainboard.Domain.Fleet;
using Drainboard.Domain.Records;
using NodaTime;

namespace Drainboard.Domain.Defects;

/// <summary>
/// What someone saw. Never edited and never lost: sorting leads it to a defect. Four times are kept apart: when it was
/// seen, saved on a device, logged in an aircraft log, and received here. Who reported and which device sent it are both kept.
/// </summary>
public sealed class Report
{
    /// <summary>A device clock further off than this is said beside the times (five minutes: our choice).</summary>
    public static readonly Duration ClockTolerance = Duration.FromMinutes(5);

    /// <summary>How many photos one report takes (our choice).</summary>
    public const int MostPhotos = 10;

    private Report()
    {
    }

    public Report(ReportId id, DefectId defect, TailId tail, Sighting sighting, PersonId reporter, string reporterName, Instant receivedAt, SendingDevice? sentBy = null)
    {
        (Id, Defect, Tail, Reporter, ReporterName, ReceivedAt) = (id, defect, tail, reporter, reporterName, receivedAt);
        (Position, Symptom, Leak, LeakWhere, Phase, Words) = (sighting.Position, sighting.Symptom, sighting.Leak, sighting.LeakWhere, sighting.Phase, sighting.Words);
        (SeenAt, SavedAt, Log) = (sighting.SeenAt, sighting.SavedAt, sighting.Log);
        (Others, AlsoAt, OffsetMinutes) = (sighting.Others, sighting.AlsoAt, sighting.OffsetMinutes);
        (Device, DeviceName, SentAt) = (sentBy?.Device?.Id, sentBy?.Device?.Name ?? "", sentBy?.ClockAtSending);
    }

    public ReportId Id { get; private set; }

    /// <summary>The defect that this report opened or was added to; where that one was joined to another, its SameAs points on.</summary>
    public DefectId Defect { get; private set; }

    public TailId Tail { get; private set; }

    public Position Position { get; private set; }

    public Symptom Symptom { get; private set; }

    public LeakAnswer Leak { get; private set; }

    public string LeakWhere { get; private set; } = "";

    public OthersToo Others { get; private set; }

    public IReadOnlyList<Position> AlsoAt { get; private set; } = [];

    public FlightPhase Phase { get; private set; }

    public string Words { get; private set; } = "";

    public PersonId Reporter { get; private set; }

    public string ReporterName { get; private set; } = "";

    /// <summary>The enrolled device that sent it; null from a person's own.</summary>
    public Guid? Device { get; private set; }

    public string DeviceName { get; private set; } = "";

    public Instant SeenAt { get; private set; }

    public Instant? SavedAt { get; private set; }

    /// <summary>Minutes east of UTC that the device's own time was when it was saved.</summary>
    public int? OffsetMinutes { get; private set; }

    /// <summary>What the device's clock said as it sent; beside <see cref="ReceivedAt"/> it tells how far that clock is off, however long the report waited.</summary>
    public Instant? SentAt { get; private set; }

    public Instant ReceivedAt { get; private set; }

    public LogReference? Log { get; private set; }

    /// <summary>Photos by the SHA-256 of their bytes, lower-case hex.</summary>
    public IReadOnlyList<string> Photos { get; private set; } = [];

    /// <summary>How far the device's clock was ahead of ours as it sent, negative for behind; null where it is within the tolerance or not known. Told, never used to move a time.</summary>
    public Duration? ClockOff =>
        SentAt is { } sent
            ? (sent - ReceivedAt is var off && (off > ClockTolerance || off < -ClockTolerance) ? off : null)
            : SeenAt > ReceivedAt + ClockTolerance ? SeenAt - ReceivedAt : null;

    public long Version { get; private set; }

    /// <summary>Answers whether it was not there yet.</summary>
    public bool Attach(string sha256)
    {
        if (Photos.Contains(sha256))
        {
            return false;
        }

        Photos = [.. Photos, sha256];
        return true;
    }
}
