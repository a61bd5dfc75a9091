using Drainboard.Domain.Cards;
using CsCheck;
using Drainboard.Domain.Accounts;
using Drainboard.Domain.Defects;
using Drainboard.Domain.Deferrals;
using Drainboard.Domain.Rectification;
using Drainboard.Domain.Records;
using Drainboard.Domain.Tests.Situations;

namespace Drainboard.Domain.Tests.Defects;

public sealed class LifecycleTests
{
    private static readonly Act[] OnADefect = [.. Lifecycle.Table.Select(row => row.Act).Distinct()];

    public static TheoryData<DefectState, Act> EveryStateAndAct
    {
        get
        {
            var all = new TheoryData<DefectState, Act>();
            foreach (var state in Enum.GetValues<DefectState>())
            {
                foreach (var act in OnADefect)
                {
                    all.Add(state, act);
                }
            }

            return all;
        }
    }

    /// <summary>The whole table: an act that it holds can be done from that state and leads where it says; one that it does not hold is refused and changes nothing.</summary>
    [Theory]
    [MemberData(nameof(EveryStateAndAct))]
    public void Act_FromEveryState_DoesWhatTheTableSays(DefectState state, Act act)
    {
        var life = new Life(state, act);
        var decision = life.Try(act);
        var row = Lifecycle.From(state).SingleOrDefault(row => row.Act == act);

        if (row is null)
        {
            Assert.IsType<Decision.Refused>(decision);
            Assert.Equal(state, life.Defect.State);
        }
        else
        {
            Assert.IsType<Decision.Done>(decision);
            Assert.Contains(life.Defect.State, row.To);
        }
    }

    /// <summary>Whatever is tried in whatever order, the state moves only along the table, and nothing closes without an ending.</summary>
    [Fact]
    public void Acts_InAnyOrder_MoveOnlyAlongTheTable() =>
        Gen.Int[0, OnADefect.Length - 1].Select(index => OnADefect[index]).Array[0, 25].Sample(acts =>
        {
            var life = new Life(DefectState.Reported, null);
            foreach (var act in acts)
            {
                var before = life.Defect.State;
                var decision = life.Try(act);
                var lawful = Lifecycle.From(before).Any(row => row.Act == act && row.To.Contains(life.Defect.State));
                if (decision is Decision.Done ? !lawful : life.Defect.State != before)
                {
                    return false;
                }

                if (life.Defect.State == DefectState.Closed != (life.Defect.Closure is not null) || (life.Defect.Closure is Closure.Rectified && life.Work?.Release is null))
                {
                    return false;
                }
            }

            return true;
        });

    [Fact]
    public void Sort_BesideTheLogWithoutAReference_IsRefused()
    {
        var defect = new Defect(new DefectId(Cabin.NewId()), Cabin.Tail, Cabin.Sighting() with { Log = null }, Cabin.Now);

        Assert.Equal("no-log-reference", Cabin.Refused(defect.Sort(Symptom.DrainsSlowly, LeakAnswer.NoneSeen, "", null, LogMode.BesideLog)).Code);
        Cabin.Done(defect.Sort(Symptom.DrainsSlowly, LeakAnswer.NoneSeen, "", null, LogMode.AsRecord));
    }

    [Fact]
    public void Merge_OfAnEarlierLoggedReport_MovesTheStartOfTheClock()
    {
        var (carried, deferral) = Cabin.Deferred(Category.B, at: Cabin.Now);
        var earlier = Cabin.Reported(at: Cabin.Now - Duration.FromDays(1));

        Cabin.Done(earlier.MergeInto(carried, Cabin.Log(Cabin.Now), LogMode.BesideLog, Cabin.Now));
        deferral.CountFrom(carried, []);

        Assert.Equal(Instant.FromUtc(2026, 1, 29, 0, 0), deferral.DueAt);
        Assert.Equal(carried.Id, earlier.SameAs);
    }

    /// <summary>As the record nothing need be in another log: the earlier receipt starts the clock, whichever is joined to which.</summary>
    [Fact]
    public void Merge_OfAnEarlierUnloggedReport_MovesTheStartOfTheClock()
    {
        var earlier = new Defect(new DefectId(Cabin.NewId()), Cabin.Tail, Cabin.Sighting() with { Log = null }, Cabin.Now - Duration.FromHours(3));
        var later = new Defect(new DefectId(Cabin.NewId()), Cabin.Tail, Cabin.Sighting() with { Log = null }, Cabin.Now);

        Cabin.Done(earlier.MergeInto(later, null, LogMode.AsRecord, Cabin.Now));

        Assert.Equal(Cabin.Now - Duration.FromHours(3), later.RecordedAt);
    }

    /// <summary>Extended in good time, and then an earlier entry turns up: the extension stands, and the clock is counted from the earlier day.</summary>
    [Fact]
    public void Merge_OfAnEarlierReportIntoAnExtendedOne_CountsAgainAndKeepsTheExtension()
    {
        var (carried, deferral) = Cabin.Deferred(Category.B);
        Cabin.Done(deferral.Extend(carried, 3, "Part on order.", "", [], Cabin.Controller, Cabin.Now + Duration.FromDays(3)));
        var earlier = Cabin.Reported(at: Cabin.Now - Duration.FromDays(1));

        Cabin.Done(earlier.MergeInto(carried, Cabin.Log(Cabin.Now), LogMode.BesideLog, Cabin.Now + Duration.FromDays(3)));
        deferral.CountFrom(carried, []);

        Assert.Equal(Instant.FromUtc(2026, 2, 1, 0, 0), deferral.DueAt);
    }

    [Fact]
    public void Merge_IntoAClosedDefect_IsRefusedBecauseARepeatCounts()
    {
        var closed = Cabin.Open();
        Cabin.Done(Cabin.RecordWork(closed, out var work));
        Cabin.Done(Cabin.Release(work!, closed));

        Assert.Equal("other-is-closed", Cabin.Refused(Cabin.Reported().MergeInto(closed, null, LogMode.BesideLog, Cabin.Now)).Code);
    }

    /// <summary>A defect with what belongs to it, and a way to try any act on it with sound contents.</summary>
    private sealed class Life
    {
        private readonly Deferral _noticed = Noticed();
        private Deferral? _deferral;

        public Life(DefectState state, Act? about)
        {
            switch (state)
            {
                case DefectState.Reported:
                    Defect = Cabin.Reported();
                    break;
                case DefectState.Open:
                    Defect = Cabin.Open();
                    if (about is Act.PrepareDeferral or Act.AuthoriseDeferral or Act.CertifyDeferral or Act.EndDeferral)
                    {
                        Cabin.Done(Cabin.Propose(Defect, Cabin.Basis(), out _deferral, ticked: about != Act.PrepareDeferral));
                    }

                    break;
                case DefectState.Deferred:
                    (Defect, _deferral) = Cabin.Deferred(repeatEvery: 3);

                    break;
                case DefectState.WorkDone:
                    Defect = Cabin.Open();
                    Cabin.Done(Cabin.RecordWork(Defect, out var work));
                    Work = work;
                    break;
                default:
                    Defect = Cabin.Open();
                    Cabin.Done(Cabin.RecordWork(Defect, out var done));
                    Cabin.Done(Cabin.Release(done!, Defect));
                    Work = done;
                    break;
            }
        }

        public Defect Defect { get; }

        public WorkDone? Work { get; private set; }

        public Decision Try(Act act)
        {
            var now = Cabin.Now;
            var deferral = _deferral ?? Cabin.Deferred().Deferral;
            var work = Work ?? Other();
            switch (act)
            {
                case Act.Report: return Defect.Add(Cabin.Report(), _deferral, now);
                case Act.Sort: return Defect.Sort(Symptom.DrainsSlowly, LeakAnswer.NoneSeen, "", null, LogMode.BesideLog);
                case Act.Merge: return Defect.MergeInto(Cabin.Open(), Cabin.Log(now), LogMode.BesideLog, now);
                case Act.CloseInError: return Defect.CloseInError("wrong tail", Cabin.Log(now), LogMode.BesideLog, now);
                case Act.Correct: return Defect.Correct("it was sink 1");
                case Act.AnswerLeak: return Defect.AnswerLeak(LeakAnswer.NoneSeen, "", _deferral, now);
                case Act.ProposeDeferral:
                    var proposed = Cabin.Propose(Defect, Cabin.Basis(), out var made);
                    _deferral = made ?? _deferral;
                    return proposed;
                case Act.PrepareDeferral: return deferral.Prepare(Defect, [0], true, "above", [], Cabin.Technician, now);
                case Act.AuthoriseDeferral: return deferral.Authorise(Defect, "MC", [], Cabin.Controller, now);
                case Act.CertifyDeferral: return deferral.Certify(Defect, [], LooseEnds.None, Cabin.Place, Cabin.Certifier, now);
                case Act.ExtendDeferral: return deferral.Extend(Defect, 1, "reason", "", [], Cabin.Controller, now);
                case Act.RecordNotice: return _noticed.RecordNotice(Defect, "letter 7", Cabin.Controller, now);
                case Act.DoCondition: return deferral.DoCondition(Defect, 0, Cabin.Technician, now);
                case Act.EndDeferral: return deferral.End(Defect, "reason", now);
                case Act.RecordWork:
                    var recorded = Cabin.RecordWork(Defect, out var done);
                    Work = done ?? Work;
                    return recorded;
                case Act.RecordChecks: return work.RecordChecks(Defect, new Drainboard.Domain.Rectification.Check(true, "", "Tech", now), null);
                case Act.TakeItem: return Defect.Holder is null ? Defect.TakeOver(Cabin.Technician, now) : Defect.LetGo();
                case Act.DoJob: return Job.Start(new JobId(Cabin.NewId()), Defect, Cabin.Layout.Find(Cabin.Sink)!, Cabin.Card, null, Cabin.Technician, now, out _);
                case Act.InspectStep:
                    var (job, steps) = Cabin.JobOn(Cabin.Open());
                    return job.Inspect(Defect, Cabin.Card, steps, "close", 1, null, Cabin.Place, Cabin.Certifier, now);
                case Act.NoteDisturbed: return DisturbedThing.Note(new DisturbedId(Cabin.NewId()), Defect, DisturbedKind.Valve, "shut-off", Cabin.Technician, now, out _);
                case Act.NotePart:
                    var seal = new PartTerms(PartState.Fitted, "Seal", "", "1", "", "F1-1", true);
                    Cabin.Done(Part.Note(new PartId(Cabin.NewId()), Cabin.Open(), seal with { Certificate = "" }, null, false, Cabin.Technician, now, out var part));
                    return part!.Change(Defect, seal, null, false, Cabin.Technician, now);
                case Act.Release: return Cabin.Release(work, Defect, _deferral is { IsRunning: true } ? _deferral : null);
                case Act.ReturnWork: return work.Return(Defect, _deferral, "reason", now);
                default: throw new InvalidOperationException($"{act} is not in the table.");
            }
        }

        /// <summary>The duty to tell the authority outlives a deferral, so it is one of its own here.</summary>
        private static Deferral Noticed()
        {
            var (defect, deferral) = Cabin.Deferred();
            Cabin.Done(deferral.Extend(defect, 1, "parts", "", [], Cabin.Controller, Cabin.Now));
            return deferral;
        }

        private static WorkDone Other()
        {
            Cabin.RecordWork(Cabin.Open(), out var work);
            return work!;
        }
    }
}
