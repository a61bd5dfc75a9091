using Drainboard.Domain.OnBoard;
using Drainboard.Domain.Defects;

namespace Drainboard.Domain.Tests.Defects;

/// <summary>What may still be used: common practice, no source.</summary>
public sealed class FixtureUsesTests
{
    [Theory]
    [InlineData(Symptom.DrainsSlowly, LeakAnswer.NoneSeen, false, FixtureUse.WithCare)]
    [InlineData(Symptom.Discoloured, LeakAnswer.DidNotLook, false, FixtureUse.WithCare)]
    [InlineData(Symptom.DoesNotDrain, LeakAnswer.NoneSeen, false, FixtureUse.DoNotUse)]
    [InlineData(Symptom.Overflows, LeakAnswer.NoneSeen, false, FixtureUse.DoNotUse)]
    [InlineData(Symptom.DoesNotFlush, LeakAnswer.NoneSeen, true, FixtureUse.AsPlacarded)]
    [InlineData(Symptom.DrainsSlowly, LeakAnswer.Leaking, true, FixtureUse.DoNotUse)]
    public void Use_OfOneFault_IsWhatCrewMayDo(Symptom symptom, LeakAnswer leak, bool carried, FixtureUse expected) =>
        Assert.Equal(expected, FixtureUses.Of(symptom, leak, carried));

    [Fact]
    public void Use_OfSeveralFaults_IsTheWorst()
    {
        Assert.Equal(FixtureUse.DoNotUse, FixtureUses.Worst([FixtureUse.WithCare, FixtureUse.DoNotUse, FixtureUse.AsPlacarded]));
        Assert.Equal(FixtureUse.Usable, FixtureUses.Worst([]));
    }
}
