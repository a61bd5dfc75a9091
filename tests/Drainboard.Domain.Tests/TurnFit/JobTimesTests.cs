using Drainboard.Domain.Defects;
using Drainboard.Domain.Fleet;
using Drainboard.Domain.Rectification;
using Drainboard.Domain.TurnFit;

namespace Drainboard.Domain.Tests.TurnFit;

public sealed class JobTimesTests
{
    private static readonly Fixture Sink = new(Position.Parse("K-1"), FixtureKind.GalleySink, "sink 1", "Aft", 90, 50);

    /// <summary>Without jobs of one's own it is the trade's word: 72 in 100 slow galley sinks are the strainer, in 4, 7 or 15 minutes (common practice, no source, from memory).</summary>
    [Fact]
    public void For_WithoutJobs_IsTheTradesWord()
    {
        var jobs = new JobTimes([], FitTerms.Usual).For("T1", FixtureKind.GalleySink, SymptomFamily.Draining);
        Assert.Equal((JobKind.GalleyStrainer, 0.72, 0), (jobs[0].Kind, jobs[0].Chance, jobs[0].OwnFleet));
        Assert.Equal(new TaskTime.ThreePoint(4, 7, 15), jobs[0].Time);
        Assert.Equal(1, jobs.Sum(job => job.Chance), 12);
    }

    /// <summary>Many jobs of one's own replace it: 300 strainers that took 20 minutes, give or take.</summary>
    [Fact]
    public void For_WithManyJobs_IsOnesOwn()
    {
        var random = new Random(1);
        var own = Enumerable.Range(0, 300).Select(_ => Job("T1", (int)Math.Round(Math.Exp(Math.Log(20) + (0.2 * Normal(random))))));
        var strainer = new JobTimes(own, FitTerms.Usual).For("T1", FixtureKind.GalleySink, SymptomFamily.Draining)[0];
        Assert.Equal(20, WorkTime.Of([strainer.Time]).Quantile(0.5), 0.8);
        Assert.Equal(20 * Math.Exp(1.2816 * 0.2), WorkTime.Of([strainer.Time]).Quantile(0.9), 1.5);
        Assert.True(strainer.Chance > 0.97);
        Assert.Equal((300, 300), (strainer.OwnLayout, strainer.OwnFleet));
    }

    /// <summary>A layout with two jobs is drawn toward the rest of the fleet; the rest does not count the layout's own jobs twice.</summary>
    [Fact]
    public void For_AFewJobs_LieBetweenTheFleetAndThem()
    {
        var times = new JobTimes([.. Enumerable.Repeat(Job("T2", 12), 200), Job("T1", 30), Job("T1", 30)], FitTerms.Usual);
        var (few, fleet) = (Median(times, "T1"), Median(times, "T3"));
        Assert.InRange(few, 13, 25);
        Assert.InRange(fleet, 11.5, 13);
        Assert.Equal(few, Median(new JobTimes([.. Enumerable.Repeat(Job("T2", 12), 200), Job("T1", 30), Job("T1", 30)], FitTerms.Usual with { BeliefWeight = 5 }), "T1"), 9);
    }

    [Fact]
    public void For_JobsNobodyTimed_CountForWhatItIsAndNotForHowLong()
    {
        var jobs = new JobTimes(Enumerable.Repeat(Job("T1", null), 180), FitTerms.Usual).For("T1", FixtureKind.GalleySink, SymptomFamily.Draining);
        Assert.Equal(((0.72 * 20) + 180) / 200, jobs[0].Chance, 12);
        Assert.Equal(new TaskTime.ThreePoint(4, 7, 15), jobs[0].Time);
    }

    [Fact]
    public void Of_TellsJobsApartByWhereTheyWereFound()
    {
        Assert.Equal(JobKind.GalleyStrainer, JobKinds.Of(FixtureKind.GalleySink, FixtureKind.Strainer, Found.Grounds));
        Assert.Equal(JobKind.BasinStrainer, JobKinds.Of(FixtureKind.LavatoryBasin, FixtureKind.Strainer, Found.HairAndSoap));
        Assert.Equal(JobKind.NothingFound, JobKinds.Of(FixtureKind.GalleySink, FixtureKind.GalleySink, Found.Nothing));
        Assert.Equal(JobKind.ToiletPart, JobKinds.Of(FixtureKind.Toilet, FixtureKind.Toilet, Found.FailedPart));
    }

    /// <summary>Every kind of trouble at every kind of fixture has shares that add up to one.</summary>
    [Fact]
    public void UsualShares_AddUp()
    {
        foreach (var kind in Enum.GetValues<FixtureKind>())
        {
            foreach (var family in Enum.GetValues<SymptomFamily>())
            {
                Assert.Equal(1, JobKinds.UsualShares(kind, family).Sum(one => one.Share), 12);
            }
        }
    }

    /// <summary>As steps are ticked less is left; once both checks are made nothing is; what is hot cools first.</summary>
    [Fact]
    public void Left_FollowsTheProgress()
    {
        var jobs = new JobTimes([], FitTerms.Usual).For("T1", FixtureKind.GalleySink, SymptomFamily.Draining);
        double[] likely =
        [
            .. new[] { Progress.None, new Progress(false, 4, 1, false), new Progress(false, 9, 0.5, false), new Progress(false, 12, 0, false), new Progress(true, null, 1, true) }
                .Select(progress => WorkTime.Of([.. ItemTasks.Left(Sink, jobs, progress, FitTerms.Usual).Select(task => task.Time)]).Quantile(0.5)),
        ];
        Assert.Equal(likely.OrderDescending(), likely);
        Assert.Equal(0, likely[^1]);
        Assert.Equal("cool down", ItemTasks.Left(Sink with { Kind = FixtureKind.CoffeeMaker }, jobs, Progress.None, FitTerms.Usual)[0].Name);
    }

    private static double Median(JobTimes times, string layout) => WorkTime.Of([times.For(layout, FixtureKind.GalleySink, SymptomFamily.Draining).Single(job => job.Kind == JobKind.GalleyStrainer).Time]).Quantile(0.5);

    private static PastJob Job(string layout, int? minutes) => new(layout, FixtureKind.GalleySink, SymptomFamily.Draining, JobKind.GalleyStrainer, minutes);

    private static double Normal(Random random) => Math.Sqrt(-2 * Math.Log(1 - random.NextDouble())) * Math.Cos(2 * Math.PI * random.NextDouble());
}
