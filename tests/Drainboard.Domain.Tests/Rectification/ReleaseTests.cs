using Drainboard.Domain.Cards;
using Drainboard.Domain.Accounts;
using Drainboard.Domain.Defects;
using Drainboard.Domain.Rectification;
using Drainboard.Domain.Records;
using Drainboard.Domain.Tests.Situations;

namespace Drainboard.Domain.Tests.Rectification;

/// <summary>
/// The contents of a sign-off: 14 CFR 43.9(a) (description or reference, date of completion, name of the performer, signature with
/// certificate number and kind), 145.A.50(e) (incomplete work is entered in the release).
/// </summary>
public sealed class ReleaseTests
{
    /// <summary>R1, 14 CFR 43.9(a)(4): a sign-off lacking the certificate number is rejected; so is one lacking its kind.</summary>
    [Theory]
    [InlineData("", "licence", "no-authorisation-number")]
    [InlineData("C-1", "", "no-authorisation-kind")]
    public void Release_SignerWithoutNumberOrKind_IsRefused(string number, string kind, string code)
    {
        var (defect, work) = Done();
        var signer = Cabin.Certifier with { Authorisation = new Authorisation(number, kind, "Test", null) };

        Assert.Equal(code, Cabin.Refused(Cabin.Release(work, defect, by: signer)).Code);
        Assert.Equal(DefectState.WorkDone, defect.State);
    }

    [Fact]
    public void Release_SignerWithExpiredAuthorisation_IsRefusedFromTheDayAfter()
    {
        var (defect, work) = Done();
        var signer = Cabin.Certifier with { Authorisation = new Authorisation("C-1", "licence", "Test", new LocalDate(2026, 1, 25)) };

        Assert.Equal("authorisation-expired", Cabin.Refused(Cabin.Release(work, defect, by: signer)).Code);
        Cabin.Done(Cabin.Release(work, defect, by: signer with { Authorisation = signer.Authorisation with { LastDay = new LocalDate(2026, 1, 26) } }));
    }

    /// <summary>R2, 14 CFR 43.9(a)(3): the performer is named even where another approves: work cannot be recorded without its doer, who stays beside the signature.</summary>
    [Fact]
    public void Release_ByAnotherThanThePerformer_NamesBoth()
    {
        var (defect, work) = Done();
        Cabin.Done(Cabin.Release(work, defect));

        Assert.Equal(("Tech", "Cert"), (work.PerformerName, work.Release!.Name));
    }

    /// <summary>R3, 14 CFR 43.9(a)(2): the date of completion. In the future or before the defect was seen it is refused.</summary>
    [Theory]
    [InlineData(60, "completed-in-future")]
    [InlineData(-600, "completed-before-seen")]
    public void RecordWork_CompletionThatCannotBe_IsRefused(int minutes, string code)
    {
        var terms = Terms() with { CompletedAt = Cabin.Now + Duration.FromMinutes(minutes) };

        Assert.Equal(code, Cabin.Refused(WorkDone.Record(new RectificationId(Cabin.NewId()), Cabin.Open(), Cabin.Layout, terms, Cabin.Technician, Cabin.Now, out _)).Code);
    }

    /// <summary>14 CFR 43.9(a)(1): a description or a reference to acceptable data; we ask for both.</summary>
    [Fact]
    public void RecordWork_WithoutDescriptionOrReference_IsRefused()
    {
        Assert.Equal("no-steps", Cabin.Refused(Record(Terms() with { Steps = [" "] })).Code);
        Assert.Equal("no-manual-reference", Cabin.Refused(Record(Terms() with { ManualReference = "" })).Code);
    }

    [Theory]
    [InlineData(null, true, "no-ops-check")]
    [InlineData(false, true, "ops-check-failed")]
    [InlineData(true, null, "no-leak-check")]
    [InlineData(true, false, "leak-check-failed")]
    public void Release_WithoutBothChecksPassed_IsRefused(bool? ops, bool? leak, string code)
    {
        var defect = Cabin.Open();
        Cabin.Done(Cabin.RecordWork(defect, out var work, ops, leak));

        Assert.Equal(code, Cabin.Refused(Cabin.Release(work!, defect)).Code);
    }

    [Fact]
    public void RecordChecks_AfterAFailedOne_LetsTheReleaseGoOn()
    {
        var defect = Cabin.Open();
        Cabin.Done(Cabin.RecordWork(defect, out var work, leak: false));
        Cabin.Done(work!.RecordChecks(defect, null, new Check(true, "joint made up again", "Tech", Cabin.Now)));

        Cabin.Done(Cabin.Release(work, defect));
        Assert.Equal(Closure.Rectified, defect.Closure);
    }

    /// <summary>R8, 145.A.50(e): open tasks stand in the release.</summary>
    [Fact]
    public void Release_WithOpenTasks_ListsThem()
    {
        var (defect, work) = Done();
        var fact = Cabin.Done(work.SignRelease(defect, null, new ReleaseTerms(WorkOutcome.Rectified, "Replace cap seal at next A check", Cabin.Log(Cabin.Now)), LooseEnds.None, LogMode.BesideLog, Cabin.Place, Cabin.Certifier, Cabin.Now));

        Assert.Equal("Replace cap seal at next A check", fact.Fields["openTasks"]);
        Assert.Contains("Open tasks", fact.Words, StringComparison.Ordinal);
    }

    [Fact]
    public void Release_NoFaultFoundAfterSomethingWasFound_IsRefused()
    {
        var (defect, work) = Done();

        Assert.Equal("outcome-differs", Cabin.Refused(Cabin.Release(work, defect, outcome: WorkOutcome.NoFaultFound)).Code);
    }

    [Fact]
    public void Return_OfWorkOnADeferredDefect_LeavesItDeferred()
    {
        var (defect, deferral) = Cabin.Deferred();
        Cabin.Done(Cabin.RecordWork(defect, out var work));
        Cabin.Done(work!.Return(defect, deferral, "Leak check not at the trap.", Cabin.Now));

        Assert.Equal(DefectState.Deferred, defect.State);
        Assert.True(deferral.IsRunning);
    }

    private static (Defect Defect, WorkDone Work) Done()
    {
        var defect = Cabin.Open();
        Cabin.Done(Cabin.RecordWork(defect, out var work));
        return (defect, work!);
    }

    private static WorkTerms Terms() => new(Found.Grounds, Drainboard.Domain.Fleet.Position.Parse("S-1"), "AMM 38-31", ["Cleaned."], Cabin.Now, 10, null, null);

    private static Decision Record(WorkTerms terms) => WorkDone.Record(new RectificationId(Cabin.NewId()), Cabin.Open(), Cabin.Layout, terms, Cabin.Technician, Cabin.Now, out _);
}
