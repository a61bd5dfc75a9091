using Drainboard.Domain.Accounts;
using Drainboard.Domain.Fleet;
using Drainboard.Domain.Records;
using NodaTime;

namespace Drainboard.Domain.Defects;

/// <summary>
/// What someone saw. Never edited and never lost: sorting leads it to a defect. Four times are kept apart: when it was
/// seen, saved on a device, logged in an aircraft log, and received here.
/// </summary>
public sealed class Report
{
    /// <summary>A device clock further off than this is said beside the times (five minutes: our choice).</summary>
    public static readonly Duration ClockTolerance = Duration.FromMinutes(5);

    private Report()
    {
    }

    public Report(ReportId id, DefectId defect, TailId tail, Sighting sighting, PersonId reporter, string reporterName, Instant receivedAt)
    {
        (Id, Defect, Tail, Reporter, ReporterName, ReceivedAt) = (id, defect, tail, reporter, reporterName, receivedAt);
        (Position, Symptom, Leak, LeakWhere, Phase, Words) = (sighting.Position, sighting.Symptom, sighting.Leak, sighting.LeakWhere, sighting.Phase, sighting.Words);
        (SeenAt, SavedAt, Log) = (sighting.SeenAt, sighting.SavedAt, sighting.Log);
    }

    public ReportId Id { get; private set; }

    /// <summary>The defect that this report opened; where that one was joined to another, its SameAs points on.</summary>
    public DefectId Defect { get; private set; }

    public TailId Tail { get; private set; }

    public Position Position { get; private set; }

    public Symptom Symptom { get; private set; }

    public LeakAnswer Leak { get; private set; }

    public string LeakWhere { get; private set; } = "";

    public FlightPhase Phase { get; private set; }

    public string Words { get; private set; } = "";

    public PersonId Reporter { get; private set; }

    public string ReporterName { get; private set; } = "";

    public Instant SeenAt { get; private set; }

    public Instant? SavedAt { get; private set; }

    public Instant ReceivedAt { get; private set; }

    public LogReference? Log { get; private set; }

    /// <summary>Photos by the SHA-256 of their bytes, lower-case hex.</summary>
    public IReadOnlyList<string> Photos { get; private set; } = [];

    /// <summary>Whether the device's clock ran ahead of ours by more than the tolerance when it was seen.</summary>
    public bool DeviceClockAhead => SeenAt > ReceivedAt + ClockTolerance;

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
