namespace Drainboard.Domain.Reliability;

/// <summary>One step of the share that is still free of a blockage at an age.</summary>
/// <param name="AtRisk">How many had reached this age; one whose age ends here without a blockage still counts.</param>
public readonly record struct SurvivalStep(double At, int Blocked, int AtRisk, double Share);

/// <summary>The share still free by age with right-censored ages (Kaplan and Meier 1958): what a fitted life is looked at against.</summary>
public static class Survival
{
    public static IReadOnlyList<SurvivalStep> Of(IReadOnlyCollection<Age> ages)
    {
        var sorted = ages.Select(age => age.Time).Order().ToArray();
        var steps = new List<SurvivalStep>();
        var share = 1.0;
        foreach (var now in ages.Where(age => age.Blocked).GroupBy(age => age.Time).OrderBy(group => group.Key))
        {
            var risk = sorted.Length - sorted.Count(time => time < now.Key);
            share *= 1 - ((double)now.Count() / risk);
            steps.Add(new SurvivalStep(now.Key, now.Count(), risk, share));
        }

        return steps;
    }
}
