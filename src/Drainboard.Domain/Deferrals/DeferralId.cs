namespace Drainboard.Domain.Deferrals;

/// <summary>Identity of a deferral. Equality by value; no order; the default is none.</summary>
public readonly record struct DeferralId(Guid Value) : IId<DeferralId>
{
    public static DeferralId From(Guid value) => new(value);
}
