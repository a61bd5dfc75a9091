namespace Drainboard.Domain.PotableWater;

/// <summary>Identity of a set of drinking water samples, made on the device. Equality by value; no order; the default is none.</summary>
public readonly record struct SampleSetId(Guid Value) : IId<SampleSetId>
{
    public static SampleSetId From(Guid value) => new(value);
}
