using NodaTime;

namespace Drainboard.Domain.Deferrals;

/// <summary>One version of an operator's own policy. A stored version never changes: an edit makes the next one, and running deferrals keep theirs.</summary>
public sealed class OperatorPolicy
{
    private OperatorPolicy()
    {
    }

    public OperatorPolicy(Guid id, DeferralPolicy terms, Instant madeAt) => (Id, Name, Number, Terms, MadeAt) = (id, terms.Name, terms.Version, terms, madeAt);

    public Guid Id { get; private set; }

    public string Name { get; private set; } = "";

    /// <summary>Counts its versions from 1.</summary>
    public int Number { get; private set; }

    public DeferralPolicy Terms { get; private set; } = DeferralPolicies.Us;

    public Instant MadeAt { get; private set; }
}
