namespace Drainboard.Domain.PotableWater;

/// <summary>What starts a lawful set of actions for an aircraft's drinking water (40 CFR 141.803, as amended 78 FR 10354 of 13 February 2013).</summary>
public enum WaterEvent
{
    /// <summary>A routine or repeat sample is E. coli-positive: (c)(2).</summary>
    EColiPositive,

    /// <summary>A routine sample is total coliform-positive and E. coli-negative: (c)(3).</summary>
    ColiformPositive,

    /// <summary>A follow-up sample is total coliform-positive and E. coli-negative: (e)(5).</summary>
    FollowUpColiformPositive,

    /// <summary>A routine disinfection and flushing, or a routine sample, was missed: (f).</summary>
    MissedRoutine,

    /// <summary>A follow-up after an E. coli-positive sample was missed: (g).</summary>
    MissedAfterEColi,

    /// <summary>A repeat or follow-up sample after a total coliform-positive one was missed: (g).</summary>
    MissedAfterColiform,

    /// <summary>Water was boarded from a source known to be E. coli-positive: (h), (i).</summary>
    UnsafeSourceEColi,

    /// <summary>Water was boarded from a source otherwise not safe: (h), (i).</summary>
    UnsafeSource,
}

public static class WaterEvents
{
    public static string Words(this WaterEvent what) => what switch
    {
        WaterEvent.EColiPositive => "E. coli-positive sample",
        WaterEvent.ColiformPositive => "Coliform-positive routine sample",
        WaterEvent.FollowUpColiformPositive => "Coliform-positive follow-up sample",
        WaterEvent.MissedRoutine => "Missed disinfection or routine sample",
        WaterEvent.MissedAfterEColi => "Missed follow-up after E. coli",
        WaterEvent.MissedAfterColiform => "Missed repeat or follow-up after coliforms",
        WaterEvent.UnsafeSourceEColi => "Boarded from a source with E. coli",
        WaterEvent.UnsafeSource => "Boarded from an unsafe source",
    };
}
