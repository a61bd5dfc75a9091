using Drainboard.Domain.TurnFit;

namespace Drainboard.Domain.Tests.TurnFit;

/// <summary>Which minutes of a turn are usable. The usual lengths are common practice, no source: what is tested is that they are kept, and that a turn's own windows rule.</summary>
public sealed class TurnAccessTests
{
    private static readonly Instant On = Instant.FromUtc(2026, 11, 26, 10, 0);

    [Fact]
    public void Stretches_OfAShortTurn_LieBetweenDeplaningAndBoarding()
    {
        var access = new TurnAccess(On, On + Duration.FromMinutes(45), [], FitTerms.Usual);
        Assert.Equal([(10, 33)], Minutes(access, CabinPlace.Galley));
        Assert.Equal([(10, 33)], Minutes(access, CabinPlace.Lavatory));
        Assert.Equal([(4, 10), (22, 37)], Minutes(access, CabinPlace.Outside));
    }

    [Fact]
    public void Stretches_OfALongTurn_StopForCateringAndCleaning()
    {
        var access = new TurnAccess(On, On + Duration.FromMinutes(120), [], FitTerms.Usual);
        Assert.Equal([(10, 12), (27, 108)], Minutes(access, CabinPlace.Galley));
        Assert.Equal([(20, 108)], Minutes(access, CabinPlace.Lavatory));
    }

    /// <summary>What is known of this turn stands instead of what is usual, activity by activity; windows may overlap.</summary>
    [Fact]
    public void Stretches_WithTheTurnsOwnWindows_GoByThem()
    {
        var access = new TurnAccess(On, On + Duration.FromMinutes(120), [Block(GroundActivity.Catering, 40, 60), Block(GroundActivity.Catering, 50, 70), Block(GroundActivity.Cleaning, 200, 210)], FitTerms.Usual);
        Assert.Equal([(10, 40), (70, 108)], Minutes(access, CabinPlace.Galley));
        Assert.Equal([(10, 108)], Minutes(access, CabinPlace.Lavatory));
    }

    [Fact]
    public void Stretches_OfATurnTooShortForAnything_AreNone() =>
        Assert.Empty(Minutes(new TurnAccess(On, On + Duration.FromMinutes(20), [], FitTerms.Usual), CabinPlace.Galley));

    /// <summary>Usable is not the whole: 38 minutes are left to departure, 23 are free of boarding and papers.</summary>
    [Fact]
    public void FitOutlook_KeepsPapersAndTheCallFree()
    {
        var access = new TurnAccess(On, On + Duration.FromMinutes(45), [], FitTerms.Usual with { PaperworkMinutes = 10, ControlCallMinutes = 5 });
        var work = WorkTime.Of([new TaskTime.ThreePoint(4, 7, 15)]);
        var fit = FitOutlook.Of(work, access.Stretches(CabinPlace.Galley), On, On + Duration.FromMinutes(45), On + Duration.FromMinutes(20), FitTerms.Usual with { PaperworkMinutes = 10, ControlCallMinutes = 5 });
        Assert.Equal((10, 25), (fit.UsableMinutes, fit.TotalMinutes));
        Assert.Equal(work.ChanceWithin(10), fit.Chance);
        Assert.Equal(0, FitOutlook.Of(work, [], On, On + Duration.FromMinutes(45), On, FitTerms.Usual).Chance);
    }

    private static AccessBlock Block(GroundActivity activity, int from, int to) => new(activity, On + Duration.FromMinutes(from), On + Duration.FromMinutes(to));

    private static (int, int)[] Minutes(TurnAccess access, CabinPlace place) => [.. access.Stretches(place).Select(one => ((int)(one.From - On).TotalMinutes, (int)(one.To - On).TotalMinutes))];
}
