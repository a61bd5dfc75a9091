using Drainboard.Domain.Cards;
using Drainboard.Domain.Accounts;
using Drainboard.Domain.Defects;
using Drainboard.Domain.Deferrals;
using Drainboard.Domain.Fleet;
using Drainboard.Domain.Plumbing;
using Drainboard.Domain.Records;
using Drainboard.Domain.Rectification;

namespace Drainboard.Domain.Tests.Situations;

/// <summary>A small sound cabin, its people, and a defect at any point of its life. Ids count up, so that runs are alike.</summary>
internal static class Cabin
{
    private static int _ids;

    public static Instant Now { get; } = Instant.FromUtc(2026, 1, 26, 10, 0);

    public static TailId Tail { get; } = new(new Guid("00000000-0000-7000-8000-00000000aaaa"));

    public static Position Sink { get; } = Position.Parse("K-1");

    public static CabinLayout Layout { get; } = new(
        new LayoutId(Guid.Empty),
        "T1",
        1,
        "Test",
        100,
        [Of("PT", FixtureKind.PotableTank), Of("K-1", FixtureKind.GalleySink), Of("S-1", FixtureKind.Strainer), Of("K-2", FixtureKind.GalleySink), Of("BR", FixtureKind.DrainLine), Of("DM", FixtureKind.DrainMast), Of("T-A", FixtureKind.Toilet), Of("WT", FixtureKind.WasteTank)],
        [Supply("PT", "K-1"), Supply("PT", "K-2"), Supply("PT", "T-A"), Drain("K-1", "S-1"), Drain("S-1", "BR"), Drain("K-2", "BR"), Drain("BR", "DM"), Drain("T-A", "WT")]);

    public static Actor Technician { get; } = Person("Tech", Role.Technician, "T-100");

    public static Actor Controller { get; } = Person("Control", Role.MaintenanceController, "M-300");

    public static Actor Certifier { get; } = Person("Cert", Role.CertifyingTechnician, "C-200");

    /// <summary>At a station in UTC, on a sink that somebody else worked on.</summary>
    public static SigningPlace Place { get; } = new(DateTimeZone.Utc, StationCode.Parse("QQAA"), "T1", FixtureKind.GalleySink, false);

    /// <summary>A card of three steps: one disturbs, one restores it and asks for a second person, one measures.</summary>
    public static CardTerms CardTerms { get; } = new("Clear a strainer", "AMM 38-31", [FixtureKind.GalleySink], [SymptomFamily.Draining], false, false,
    [
        new CardStep("open", "Open the strainer.", Disturbs: new Disturbance(DisturbedKind.Cap, "Strainer cap")),
        new CardStep("close", "Close the strainer.", SecondPerson: true, Restores: "open"),
        new CardStep("warm", "Measure the water.", Check: StepCheck.Measurement, Measure: new StepMeasure("°C", 35, 43)),
        new CardStep("ops", "It runs off.", Check: StepCheck.OpsCheck),
        new CardStep("leak", "It is dry.", Check: StepCheck.LeakCheck),
    ]);

    public static WorkCard Card { get; } = Publish(CardTerms);

    public static WorkCard Publish(CardTerms terms, WorkCard? before = null) =>
        WorkCard.Publish(new WorkCardId(NewId()), "strainer", terms, before, Now, out var made) is { } no ? throw new InvalidOperationException(no.Words) : made!;

    /// <summary>A job on the card, begun by the technician, with the first two steps done.</summary>
    public static (Job Job, List<JobStep> Steps) JobOn(Defect defect)
    {
        Done(Job.Start(new JobId(NewId()), defect, Layout.Find(Sink)!, Card, null, Technician, Now, out var job));
        var steps = new List<JobStep>();
        foreach (var key in new[] { "open", "close" })
        {
            Done(job!.Record(defect, Card, steps, key, new StepTerms(StepResult.Good), Technician, Now, out var made));
            steps.Add(made!);
        }

        return (job!, steps);
    }

    public static Guid NewId() => new($"00000000-0000-7000-8000-{Interlocked.Increment(ref _ids):x12}");

    public static Fixture Of(string position, FixtureKind kind) => new(Position.Parse(position), kind, $"Fixture {position}", "Aft", 50, 50);

    public static Connection Supply(string from, string to) => new(Water.Supply, Position.Parse(from), Position.Parse(to));

    public static Connection Drain(string from, string to) => new(Water.Drainage, Position.Parse(from), Position.Parse(to));

    public static LogReference Log(Instant at) => new(LogBook.Technical, "0412", "3", at);

    public static Sighting Sighting(LeakAnswer leak = LeakAnswer.NoneSeen, Instant? at = null) =>
        new(Sink, Symptom.DrainsSlowly, leak, leak == LeakAnswer.Leaking ? "at the trap" : "", FlightPhase.InFlight, "", at ?? Now, null, Log(at ?? Now));

    public static Report Report(LeakAnswer leak = LeakAnswer.NoneSeen, Instant? at = null) =>
        new(new ReportId(NewId()), new DefectId(NewId()), Tail, Sighting(leak, at), Technician.Person, Technician.Name, at ?? Now);

    public static Defect Reported(LeakAnswer leak = LeakAnswer.NoneSeen, Instant? at = null) =>
        new(new DefectId(NewId()), Tail, Sighting(leak, at), at ?? Now);

    public static Defect Open(LeakAnswer leak = LeakAnswer.NoneSeen, Instant? at = null)
    {
        var defect = Reported(leak, at);
        Done(defect.Sort(defect.Symptom, leak, leak == LeakAnswer.Leaking ? "at the trap" : "", null, LogMode.BesideLog));
        return defect;
    }

    public static DeferralBasis Basis(Category? category = Category.C, bool leakAllowed = false, int? days = null, int conditions = 1, bool placard = true, int? repeatEvery = null) => new(
        new BasisId(NewId()),
        BasisKind.MelItem,
        "38-01",
        new BasisTerms("Galley sink", "1", category, days, [FixtureKind.GalleySink], [], 2, 1, leakAllowed, placard, "INOPERATIVE", true, true, [.. Enumerable.Range(0, conditions).Select(index => new BasisCondition(ConditionKind.Maintenance, $"condition {index}", repeatEvery))]));

    public static Decision Propose(Defect defect, DeferralBasis basis, out Deferral? made, Instant? now = null, DeferralPolicy? policy = null, bool ticked = true) =>
        Deferral.Propose(new DeferralId(NewId()), defect, Layout.Find(Sink)!, Layout, basis, policy ?? DeferralPolicies.Us, DateTimeZone.Utc, [], null, null, new DeferralTerms(2, 1, [.. Enumerable.Range(0, ticked ? basis.Terms.Conditions.Count : 0)], ticked, "above", ""), null, LogMode.BesideLog, Technician, now ?? Now, out made);

    public static (Defect Defect, Deferral Deferral) Deferred(Category category = Category.C, DeferralPolicy? policy = null, int? days = null, Instant? at = null, int? repeatEvery = null)
    {
        var defect = Open(at: at);
        Done(Propose(defect, Basis(category, days: days, repeatEvery: repeatEvery), out var deferral, at, policy));
        Done(deferral!.Authorise(defect, "MC-1", [], Controller, at ?? Now));
        Done(deferral.Certify(defect, [], LooseEnds.None, Place, Certifier, at ?? Now));
        return (defect, deferral);
    }

    public static Decision RecordWork(Defect defect, out WorkDone? work, bool? ops = true, bool? leak = true, Found found = Found.Grounds, Instant? at = null) =>
        WorkDone.Record(new RectificationId(NewId()), defect, Layout, new WorkTerms(found, Position.Parse("S-1"), "AMM 38-31", ["Strainer cleaned."], at ?? Now, 12, CheckOf(ops), CheckOf(leak)), Technician, at ?? Now, out work);

    public static Decision Release(WorkDone work, Defect defect, Deferral? deferral = null, Actor? by = null, WorkOutcome outcome = WorkOutcome.Rectified, LogReference? log = null, LogMode mode = LogMode.BesideLog) =>
        work.SignRelease(defect, deferral, new ReleaseTerms(outcome, "", log ?? (mode == LogMode.BesideLog ? Log(Now) : null)), LooseEnds.None, mode, Place, by ?? Certifier, Now);

    public static Fact Done(Decision decision) => decision is Decision.Done done ? done.Fact : throw new InvalidOperationException(Refused(decision).Words);

    public static Refusal Refused(Decision decision) => decision is Decision.Refused refused ? refused.Refusal : throw new InvalidOperationException("It was done.");

    private static Check? CheckOf(bool? passed) => passed is { } yes ? new Check(yes, "", "Tech", Now) : null;

    private static Actor Person(string name, Role role, string number) =>
        new(new PersonId(NewId()), name, new HashSet<Role> { role }, StationScope.Every, null, new Authorisation(number, "company authorisation", "Test", null));
}
