using Drainboard.Domain.Accounts;
using Drainboard.Domain.Fleet;
using Drainboard.Domain.Records;
using NodaTime;

namespace Drainboard.Domain.ShiftPlans;

/// <summary>The plan of one station's shift that was given out: from it technicians have their lists. A later one for the same shift takes its place.</summary>
public sealed class StationPlan
{
    private static readonly Duration Longest = Duration.FromHours(16);

    private StationPlan()
    {
    }

    public StationPlan(StationPlanId id, StationCode station, Instant from) => (Id, Station, From) = (id, station, from);

    public StationPlanId Id { get; private set; }

    public StationCode Station { get; private set; }

    public Instant From { get; private set; }

    public Instant To { get; private set; }

    public PlanContent Content { get; private set; } = new([], [], [], [], 0, 0.7);

    public PersonId GivenBy { get; private set; }

    public string GivenByName { get; private set; } = "";

    public Instant GivenAt { get; private set; }

    public long Version { get; private set; }

    /// <summary>Why a shift cannot be planned from one time to another, or null.</summary>
    public static Refusal? WhyNot(Instant from, Instant to) =>
        to <= from ? new Refusal("shift-backward", "The shift ends before it begins. Give it an end after its beginning.")
        : to - from > Longest ? new Refusal("shift-too-long", $"A shift's plan covers up to {Longest.TotalHours:0} hours.")
        : null;

    /// <summary>A later plan takes over from this time.</summary>
    public void EndAt(Instant time) => To = Instant.Min(To, time);

    public Decision Give(Instant to, PlanContent content, Actor by, Instant now)
    {
        if (WhyNot(From, to) is { } no)
        {
            return no;
        }

        (To, Content, GivenBy, GivenByName, GivenAt) = (to, content, by.Person, by.Name, now);
        return new Fact(ChainKey.For(Station), "plan.given", Id.Value, $"Shift plan given out: {content.Items.Count} items for {content.People.Count} people, {content.Left.Count} left.").With("from", (Instant?)From).With("to", (Instant?)to).With("items", content.Items.Count).With("left", content.Left.Count);
    }
}
