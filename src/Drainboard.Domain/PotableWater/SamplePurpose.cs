namespace Drainboard.Domain.PotableWater;

/// <summary>Why drinking water is sampled.</summary>
public enum SamplePurpose
{
    /// <summary>By the programme: 40 CFR 141.803(b).</summary>
    Routine,

    /// <summary>Three after a coliform-positive routine sample: 141.803(c)(3)(iii).</summary>
    Repeat,

    /// <summary>A full set after a disinfection that an event asked for: 141.803(c), (e).</summary>
    FollowUp,
}

public static class SamplePurposes
{
    public static string Words(this SamplePurpose purpose) => purpose switch
    {
        SamplePurpose.Routine => "routine set",
        SamplePurpose.Repeat => "repeat samples",
        SamplePurpose.FollowUp => "follow-up set",
    };
}
