namespace Drainboard.Domain.TurnFit;

/// <summary>What else goes on around an aircraft on the ground, and keeps technicians from a place.</summary>
public enum GroundActivity
{
    Deplaning,
    Catering,
    Cleaning,
    Servicing,
    Boarding,
}

public static class GroundActivities
{
    /// <summary>Which places it keeps people from (common practice, no source).</summary>
    public static bool Blocks(this GroundActivity activity, CabinPlace place) => activity switch
    {
        GroundActivity.Deplaning or GroundActivity.Boarding => place != CabinPlace.Outside,
        GroundActivity.Catering => place == CabinPlace.Galley,
        GroundActivity.Cleaning => place == CabinPlace.Lavatory,
        GroundActivity.Servicing => place == CabinPlace.Outside,
    };

    public static string Words(this GroundActivity activity) => activity switch
    {
        GroundActivity.Deplaning => "deplaning",
        GroundActivity.Catering => "catering",
        GroundActivity.Cleaning => "cleaning",
        GroundActivity.Servicing => "water or waste truck",
        GroundActivity.Boarding => "boarding",
    };
}
