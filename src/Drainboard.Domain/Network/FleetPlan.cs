using Drainboard.Domain.Accounts;
using Drainboard.Domain.Records;
using NodaTime;

namespace Drainboard.Domain.Network;

/// <summary>The plan of the whole network that control gave out: which stay takes which carried item. An installation has one; a later one takes its place.</summary>
public sealed class FleetPlan
{
    public FleetPlanId Id { get; private set; } = FleetPlanId.TheOne;

    /// <summary>It looks ahead to here.</summary>
    public Instant Until { get; private set; }

    public FleetPlanContent Content { get; private set; } = new([], [], 0);

    public PersonId GivenBy { get; private set; }

    public string GivenByName { get; private set; } = "";

    public Instant GivenAt { get; private set; }

    public long Version { get; private set; }

    public Fact Give(Instant until, FleetPlanContent content, Actor by, Instant now)
    {
        (Until, Content, GivenBy, GivenByName, GivenAt) = (until, content, by.Person, by.Name, now);
        return new Fact(ChainKey.Operator, "network.given", Id.Value, $"Network plan given out: {content.Items.Count} items planned, {content.Late.Count} late.").With("until", (Instant?)until).With("items", content.Items.Count).With("late", content.Late.Count);
    }
}
