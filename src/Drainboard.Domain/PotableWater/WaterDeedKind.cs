namespace Drainboard.Domain.PotableWater;

/// <summary>What was done for an aircraft's drinking water, samples apart.</summary>
public enum WaterDeedKind
{
    /// <summary>The system was disinfected and flushed, routinely or after an event: 40 CFR 141.804(b)(2).</summary>
    DisinfectedAndFlushed,

    /// <summary>The water system was self-inspected: 40 CFR 141.808.</summary>
    SelfInspected,

    /// <summary>A deficiency was found in a self-inspection: to be put right within 90 days (40 CFR 141.808).</summary>
    DeficiencyFound,

    /// <summary>A deficiency was put right.</summary>
    DeficiencyCorrected,

    /// <summary>A serviceable item of the programme was serviced.</summary>
    ItemServiced,
}

public static class WaterDeedKinds
{
    public static string Words(this WaterDeedKind kind) => kind switch
    {
        WaterDeedKind.DisinfectedAndFlushed => "Disinfected and flushed",
        WaterDeedKind.SelfInspected => "Self-inspected",
        WaterDeedKind.DeficiencyFound => "Deficiency found",
        WaterDeedKind.DeficiencyCorrected => "Deficiency put right",
        WaterDeedKind.ItemServiced => "Serviced",
    };
}
