using Drainboard.Domain.Accounts;
using Drainboard.Domain.Fleet;
using NodaTime;

namespace Drainboard.Domain.Warnings;

/// <summary>
/// That a person wants to be told of clocks that run out, of reports that come in, or of both: on one tail, of tails that are or come next
/// at one station, or in the whole fleet. Lead times are whole hours before the lapse; zero is the lapse itself.
/// </summary>
public sealed class Follow
{
    public const int LongestLead = 24 * 30;
    public const int MostLeads = 8;

    private Follow()
    {
    }

    public Follow(Guid id, PersonId person, TailId? tail, StationCode? station, IEnumerable<int> leadHours, bool reports, bool byMail, Instant at)
    {
        (Id, Person, Tail, Station, Reports, ByMail, At) = (id, person, tail, station, reports, byMail, at);
        LeadHours = [.. leadHours.Distinct().OrderDescending()];
    }

    public Guid Id { get; private set; }

    public PersonId Person { get; private set; }

    public TailId? Tail { get; private set; }

    public StationCode? Station { get; private set; }

    public IReadOnlyList<int> LeadHours { get; private set; } = [];

    /// <summary>Told of each report as it comes in.</summary>
    public bool Reports { get; private set; }

    public bool ByMail { get; private set; }

    public Instant At { get; private set; }

    public long Version { get; private set; }

    public static Refusal? WhyNot(TailId? tail, StationCode? station, IReadOnlyCollection<int> leadHours, bool reports) =>
        tail is not null && station is not null
            ? new Refusal("tail-or-station", "Follow a tail or a station, or neither for the whole fleet. For both make two.")
        : (leadHours.Count == 0 && !reports) || leadHours.Count > MostLeads || leadHours.Any(hours => hours is < 0 or > LongestLead)
            ? new Refusal("lead-hours", $"Choose reports, clocks or both. For clocks give one to {MostLeads} lead times in whole hours, from 0 (the lapse itself) to {LongestLead}.")
        : null;

    /// <summary>The lead whose time has come for a clock: the shortest that has. One warning a lead, and never all of them at once.</summary>
    public int? LeadAt(Instant dueAt, Instant now)
    {
        int? reached = null;
        foreach (var lead in LeadHours)
        {
            if (now >= dueAt - Duration.FromHours(lead))
            {
                reached = lead;
            }
        }

        return reached;
    }
}
