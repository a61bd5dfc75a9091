using Drainboard.Domain.Defects;

namespace Drainboard.Domain.OnBoard;

/// <summary>
/// The rule behind "usable now". Common practice, no source: what leaks, runs over or does not take away is left alone; what is carried is
/// used as its placard says; the rest is used with care. The operator's own procedures and a placard rule over it.
/// </summary>
public static class FixtureUses
{
    /// <param name="carried">A deferral of it runs.</param>
    public static FixtureUse Of(Symptom symptom, LeakAnswer leak, bool carried) =>
        leak == LeakAnswer.Leaking ? FixtureUse.DoNotUse
        : carried ? FixtureUse.AsPlacarded
        : symptom switch
        {
            Symptom.DoesNotDrain or Symptom.BacksUp or Symptom.Overflows or Symptom.WillNotStop or Symptom.DoesNotFlush or Symptom.Leaks => FixtureUse.DoNotUse,
            _ => FixtureUse.WithCare,
        };

    /// <summary>Of several faults on one fixture, the worst counts.</summary>
    public static FixtureUse Worst(IEnumerable<FixtureUse> uses) => uses.DefaultIfEmpty(FixtureUse.Usable).Max();
}
