using Drainboard.Domain.Accounts;
using Drainboard.Domain.Cards;
using Drainboard.Domain.Defects;
using Drainboard.Domain.Fleet;
using Drainboard.Domain.Records;
using Drainboard.Domain.Rectification;
using Drainboard.Domain.Tests.Situations;
using NodaTime;

namespace Drainboard.Domain.Tests.Cards;

public sealed class JobTests
{
    [Fact]
    public void Record_TheSameStepTwice_CountsOnce()
    {
        var defect = Cabin.Open();
        var (job, steps) = Cabin.JobOn(defect);

        var again = job.Record(defect, Cabin.Card, steps, "open", new StepTerms(StepResult.Good), Cabin.Certifier, Cabin.Now, out var made);

        Assert.Contains("Tech", Assert.IsType<Decision.AlreadySo>(again).Words, StringComparison.Ordinal);
        Assert.Null(made);
    }

    [Fact]
    public void Record_AnotherReadingOfAStep_IsTakenOnlyAsOnceMore()
    {
        var defect = Cabin.Open();
        var (job, steps) = Cabin.JobOn(defect);
        Cabin.Done(job.Record(defect, Cabin.Card, steps, "warm", new StepTerms(StepResult.Good, 50), Cabin.Technician, Cabin.Now, out var hot));
        steps.Add(hot!);

        Assert.Equal(StepResult.Bad, hot!.Result);
        Assert.Equal("recorded-before", Cabin.Refused(job.Record(defect, Cabin.Card, steps, "warm", new StepTerms(StepResult.Good, 41), Cabin.Technician, Cabin.Now, out _)).Code);
        Cabin.Done(job.Record(defect, Cabin.Card, steps, "warm", new StepTerms(StepResult.Good, 41, Again: true), Cabin.Technician, Cabin.Now, out var right));
        Assert.Equal((2, StepResult.Good), (right!.Turn, right.Result));
    }

    [Theory]
    [InlineData("warm", "no-value")]
    [InlineData("none", "no-such-step")]
    public void Record_WhatIsMissing_IsAsked(string step, string code)
    {
        var defect = Cabin.Open();
        var (job, steps) = Cabin.JobOn(defect);
        Assert.Equal(code, Cabin.Refused(job.Record(defect, Cabin.Card, steps, step, new StepTerms(StepResult.Good), Cabin.Technician, Cabin.Now, out _)).Code);
    }

    [Fact]
    public void WhyNotFinish_WithStepsOpen_NamesThem()
    {
        var defect = Cabin.Open();
        var (job, steps) = Cabin.JobOn(defect);
        var refusal = job.WhyNotFinish(defect, Cabin.Card, Cabin.Card, steps, false)!;
        Assert.Equal("steps-open", refusal.Code);
        Assert.Contains("3 Measure the water", refusal.Words, StringComparison.Ordinal);
        Assert.DoesNotContain("Open the strainer", refusal.Words, StringComparison.Ordinal);
    }

    [Fact]
    public void CardChangedMeanwhile_IsSaid_AndWhatStaysTheSameIsKept()
    {
        var defect = Cabin.Open();
        var card = Cabin.Publish(Cabin.CardTerms);
        Cabin.Done(Job.Start(new JobId(Cabin.NewId()), defect, Cabin.Layout.Find(Cabin.Sink)!, card, null, Cabin.Technician, Cabin.Now, out var job));
        List<JobStep> steps = [];
        foreach (var key in new[] { "open", "close" })
        {
            Cabin.Done(job!.Record(defect, card, steps, key, new StepTerms(StepResult.Good), Cabin.Technician, Cabin.Now, out var made));
            steps.Add(made!);
        }

        var later = Cabin.Publish(Cabin.CardTerms with { Steps = [Cabin.CardTerms.Steps[0], Cabin.CardTerms.Steps[1] with { Words = "Close the strainer hand tight." }, .. Cabin.CardTerms.Steps.Skip(2)] }, card);

        var refusal = job!.WhyNotFinish(defect, card, later, steps, false)!;
        Assert.Equal("card-changed", refusal.Code);
        Assert.Contains("Changed: Close the strainer hand tight.", refusal.Words, StringComparison.Ordinal);
        Cabin.Done(job.GoOnWith(defect, card, later, steps));
        Assert.Equal(["open"], Job.Counting(later, steps).Select(row => row.Step));
        Assert.Equal("steps-open", job.WhyNotFinish(defect, later, later, steps, false)!.Code);
    }

    /// <summary>Required inspections are made by another authorised person: 14 CFR 121.709(b).</summary>
    [Fact]
    public void Inspect_ByWhoWorkedOnIt_IsRefused_AndByAnotherIsSigned()
    {
        var defect = Cabin.Open();
        var (job, steps) = Cabin.JobOn(defect);

        Assert.Equal("own-work", Cabin.Refused(job.Inspect(defect, Cabin.Card, steps, "close", 1, null, Cabin.Place, Cabin.Technician, Cabin.Now)).Code);
        Assert.Equal(["Close the strainer"], LooseEnds.Of([], (Cabin.Card, steps)).Uninspected);
        Cabin.Done(job.Inspect(defect, Cabin.Card, steps, "close", 1, null, Cabin.Place, Cabin.Certifier, Cabin.Now));
        Assert.Empty(LooseEnds.Of([], (Cabin.Card, steps)).Uninspected);
        Assert.Equal("C-200", steps[1].Inspection!.Number);
    }

    [Fact]
    public void Release_WithSomethingDisturbed_WaitsUntilItIsRestored()
    {
        var defect = Cabin.Open();
        Cabin.Done(DisturbedThing.Note(new DisturbedId(Cabin.NewId()), defect, DisturbedKind.Breaker, "mast heater", Cabin.Technician, Cabin.Now, out var thing));
        Cabin.Done(Cabin.RecordWork(defect, out var work));

        Assert.Equal("still-disturbed", Cabin.Refused(Sign(work!, defect, thing!)).Code);
        Assert.Equal("not-in-a-release", Cabin.Refused(thing!.LeaveFor(defect, "left pulled")).Code);
        Cabin.Done(thing.Restore(defect, Cabin.Technician, Cabin.Now));
        Cabin.Done(Sign(work!, defect, thing));

        static Decision Sign(WorkDone work, Defect defect, DisturbedThing thing) =>
            work.SignRelease(defect, null, new ReleaseTerms(WorkOutcome.Rectified, "", Cabin.Log(Cabin.Now)), LooseEnds.Of([thing]), LogMode.BesideLog, Cabin.Place, Cabin.Certifier, Cabin.Now);
    }

    [Fact]
    public void CertifyDeferral_WithSomethingDisturbed_WaitsUntilItIsRestoredOrNamed()
    {
        var defect = Cabin.Open();
        Cabin.Done(DisturbedThing.Note(new DisturbedId(Cabin.NewId()), defect, DisturbedKind.Valve, "shut-off under sink 1", Cabin.Technician, Cabin.Now, out var thing));
        Cabin.Done(Cabin.Propose(defect, Cabin.Basis(), out var deferral));

        Assert.Equal("still-disturbed", Cabin.Refused(deferral!.Certify(defect, [], LooseEnds.Of([thing!]), Cabin.Place, Cabin.Certifier, Cabin.Now)).Code);
        Cabin.Done(thing!.LeaveFor(defect, "shut and tagged"));
        Cabin.Done(deferral.Certify(defect, [], LooseEnds.Of([thing]), Cabin.Place, Cabin.Certifier, Cabin.Now));
    }

    [Fact]
    public void Release_WithAReadingOutOfLimits_IsSignedAsNotRectifiedOnly()
    {
        var defect = Cabin.Open();
        var card = new CardWork(new JobId(Cabin.NewId()), "strainer", 1, "Clear a strainer", Cabin.Now);
        var passed = new Check(true, "", "Tech", Cabin.Now);
        Cabin.Done(WorkDone.Record(new RectificationId(Cabin.NewId()), defect, Cabin.Layout, new WorkTerms(Found.Grounds, Position.Parse("S-1"), "AMM", ["Done."], Cabin.Now, 5, passed, passed, card) { OutOfLimits = ["Measure the water: OUT OF LIMITS (35 to 43 °C), 50 °C"] }, Cabin.Technician, Cabin.Now, out var work));

        Assert.Equal("out-of-limits", Cabin.Refused(Cabin.Release(work!, defect)).Code);
        var fact = Cabin.Done(Cabin.Release(work!, defect, outcome: WorkOutcome.NotRectified));

        Assert.Equal((DefectState.Open, "work.released"), (defect.State, fact.Kind));
        Assert.Null(defect.Closure);
        Assert.NotNull(work!.Release);
    }

    /// <summary>A leak that the leak check found stands on the defect, and ends a deferral whose basis allows none.</summary>
    [Fact]
    public void NotRectified_WithALeakFound_EndsADeferralThatAllowsNone()
    {
        var (defect, deferral) = Cabin.Deferred();
        Cabin.Done(Cabin.RecordWork(defect, out var work, leak: false));

        var fact = Cabin.Done(Cabin.Release(work!, defect, deferral, outcome: WorkOutcome.NotRectified));

        Assert.Equal((DefectState.Open, LeakAnswer.Leaking), (defect.State, defect.Leak));
        Assert.NotNull(deferral.EndedAt);
        Assert.Equal(WorkDone.NotRectifiedStatement, fact.Fields["statement"]);
    }

    [Fact]
    public void Record_DoesNotApplyAfterABadReading_IsRefused()
    {
        var defect = Cabin.Open();
        var (job, steps) = Cabin.JobOn(defect);
        Cabin.Done(job.Record(defect, Cabin.Card, steps, "warm", new StepTerms(StepResult.Good, 50), Cabin.Technician, Cabin.Now, out var hot));
        steps.Add(hot!);
        Assert.Equal("was-bad", Cabin.Refused(job.Record(defect, Cabin.Card, steps, "warm", new StepTerms(StepResult.NotHere, Words: "no probe", Again: true), Cabin.Technician, Cabin.Now, out _)).Code);
    }

    [Fact]
    public void Record_TheSameResultWithOtherWords_KeepsThemByAsking()
    {
        var defect = Cabin.Open();
        var (job, steps) = Cabin.JobOn(defect);
        Assert.Equal("recorded-before", Cabin.Refused(job.Record(defect, Cabin.Card, steps, "open", new StepTerms(StepResult.Good, Words: "seal cracked"), Cabin.Technician, Cabin.Now, out _)).Code);
    }

    [Fact]
    public void Inspect_AnEarlierTimeOfTheStep_IsRefused()
    {
        var defect = Cabin.Open();
        var (job, steps) = Cabin.JobOn(defect);
        Cabin.Done(job.Record(defect, Cabin.Card, steps, "close", new StepTerms(StepResult.Good, Again: true), Cabin.Technician, Cabin.Now, out var again));
        steps.Add(again!);
        Assert.Equal("recorded-again", Cabin.Refused(job.Inspect(defect, Cabin.Card, steps, "close", 1, null, Cabin.Place, Cabin.Certifier, Cabin.Now)).Code);
        Assert.Equal("own-work", Cabin.Refused(job.Inspect(defect, Cabin.Card, steps, "close", 2, Cabin.Certifier.Person, Cabin.Place, Cabin.Certifier, Cabin.Now)).Code);
        Cabin.Done(job.Inspect(defect, Cabin.Card, steps, "close", 2, null, Cabin.Place, Cabin.Certifier, Cabin.Now));
    }

    /// <summary>A leak check made before the strainer was opened proves nothing of it.</summary>
    [Fact]
    public void WhyNotFinish_WithACheckBeforeTheWork_AsksForItAgain()
    {
        var defect = Cabin.Open();
        Cabin.Done(Job.Start(new JobId(Cabin.NewId()), defect, Cabin.Layout.Find(Cabin.Sink)!, Cabin.Card, null, Cabin.Technician, Cabin.Now, out var job));
        List<JobStep> steps = [];
        var minute = 0;
        foreach (var (key, value) in new (string, decimal?)[] { ("leak", null), ("open", null), ("close", null), ("warm", 40), ("ops", null) })
        {
            Cabin.Done(job!.Record(defect, Cabin.Card, steps, key, new StepTerms(StepResult.Good, value), Cabin.Technician, Cabin.Now + Duration.FromMinutes(++minute), out var made));
            steps.Add(made!);
        }

        var refusal = job!.WhyNotFinish(defect, Cabin.Card, Cabin.Card, steps, false)!;
        Assert.Equal("check-too-early", refusal.Code);
        Assert.StartsWith("Step 5 (It is dry) was recorded before step 1", refusal.Words, StringComparison.Ordinal);
        Cabin.Done(job.Record(defect, Cabin.Card, steps, "leak", new StepTerms(StepResult.Good, Again: true), Cabin.Technician, Cabin.Now + Duration.FromMinutes(9), out var again));
        steps.Add(again!);
        Assert.Null(job.WhyNotFinish(defect, Cabin.Card, Cabin.Card, steps, false));
    }

    /// <summary>14 CFR 43.9(a)(3): who did it is named where that is not who writes the work up.</summary>
    [Fact]
    public void Tell_NamesWhoDidAStep_WhereThatIsSomebodyElse()
    {
        var (_, steps) = Cabin.JobOn(Cabin.Open());
        Assert.Equal("Open the strainer: done", Job.Tell(Cabin.Card, steps[0], Cabin.Technician.Person));
        Assert.Equal("Open the strainer: done (Tech)", Job.Tell(Cabin.Card, steps[0], Cabin.Certifier.Person));
    }

    [Fact]
    public void Record_AStepThatClosesOffWhatWaitsForItsInspection_IsRefused()
    {
        var card = Cabin.Publish(Cabin.CardTerms with
        {
            Steps =
            [
                new CardStep("panel", "Take the panel off.", Disturbs: new Disturbance(DisturbedKind.Panel, "Panel")), new CardStep("seal", "Renew the seal.", SecondPerson: true), new CardStep("panel-on", "Refit the panel.", Restores: "panel"),
            ],
        });
        var defect = Cabin.Open();
        Cabin.Done(Job.Start(new JobId(Cabin.NewId()), defect, Cabin.Layout.Find(Cabin.Sink)!, card, null, Cabin.Technician, Cabin.Now, out var job));
        List<JobStep> steps = [];
        foreach (var key in new[] { "panel", "seal" })
        {
            Cabin.Done(job!.Record(defect, card, steps, key, new StepTerms(StepResult.Good), Cabin.Technician, Cabin.Now, out var made));
            steps.Add(made!);
        }

        Assert.Equal("inspect-first", Cabin.Refused(job!.Record(defect, card, steps, "panel-on", new StepTerms(StepResult.Good), Cabin.Technician, Cabin.Now, out _)).Code);
        Cabin.Done(job.Inspect(defect, card, steps, "seal", 1, null, Cabin.Place, Cabin.Certifier, Cabin.Now));
        Cabin.Done(job.Record(defect, card, steps, "panel-on", new StepTerms(StepResult.Good), Cabin.Technician, Cabin.Now, out _));
    }

    [Fact]
    public void Publish_AStepThatRestoresNothing_IsRefused() =>
        Assert.Equal("step-restores", WorkCard.Publish(new WorkCardId(Cabin.NewId()), "strainer", Cabin.CardTerms with { Steps = [new CardStep("a", "Do it.", Restores: "b")] }, null, Cabin.Now, out _)!.Code);

    [Fact]
    public void Publish_TheSameAgain_IsRefused()
    {
        var card = Cabin.Publish(Cabin.CardTerms);
        Assert.Equal("card-unchanged", WorkCard.Publish(new WorkCardId(Cabin.NewId()), "strainer", Cabin.CardTerms, card, Cabin.Now, out _)!.Code);
        Assert.True(card.IsCurrent);
    }
}
