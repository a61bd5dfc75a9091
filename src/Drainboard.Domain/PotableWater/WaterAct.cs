namespace Drainboard.Domain.PotableWater;

/// <summary>What is to be done for an aircraft's drinking water.</summary>
public enum WaterAct
{
    RestrictAccess,
    NoticeToGalley,
    NoticeInLavatories,
    DisinfectAndFlush,
    RepeatSamples,
    FollowUpSamples,
    Report,
}

public static class WaterActs
{
    public static string Words(this WaterAct act) => act switch
    {
        WaterAct.RestrictAccess => "Restrict access: shut off or prevent flow where feasible, give notice, give alternatives",
        WaterAct.NoticeToGalley => "Notice to the galley crew",
        WaterAct.NoticeInLavatories => "Notices in the lavatories",
        WaterAct.DisinfectAndFlush => "Disinfect and flush",
        WaterAct.RepeatSamples => "Three repeat samples: the positive tap, another lavatory, another galley",
        WaterAct.FollowUpSamples => "A full set of follow-up samples",
        WaterAct.Report => "Report to the authority",
    };
}
