using Drainboard.Domain.Cards;
using Drainboard.Data;
using Drainboard.Domain;
using Drainboard.Domain.Accounts;
using Drainboard.Domain.Defects;
using Drainboard.Domain.Deferrals;
using Drainboard.Domain.Fleet;
using Drainboard.Domain.Isolation;
using Drainboard.Domain.Pours;
using Drainboard.Domain.Records;
using Drainboard.Domain.Rectification;
using Drainboard.Web.Features.Defects;
using Drainboard.Web.Hosting;
using NodaTime;

namespace Drainboard.Web.Features.Demo;

/// <summary>
/// The life of one invented tail: what is written up on it and what people do about it, each step through the domain's own
/// methods, so that the demo can hold nothing that the rules refuse.
/// </summary>
internal sealed class DemoLife(Tail tail, CabinLayout layout, IReadOnlyList<DeferralBasis> bases, IReadOnlyList<WorkCard> cards, DemoCast cast, Dice dice, Instant now)
{
    private const double WriteUpsADay = 0.195;

    private static readonly string[] CrewWords = ["", "", "Took a full service to go down.", "Water stands above the strainer.", "Worse after the coffee round.", "Same as on the way out.", "Fine at first, slow by landing.", ""];
    private readonly List<Defect> _past = [];
    private int _page = dice.Between(100, 900);

    public List<object> Made { get; } = [];

    public List<Deed> Deeds { get; } = [];

    public void Live(int days)
    {
        var step = WriteUpsADay * (layout.Code == "N1" ? 0.85 : 1.2);
        for (var day = days; day >= 1; day--)
        {
            var morning = now - Duration.FromDays(day);
            if (!dice.Chance(step * Busy(morning)))
            {
                continue;
            }

            var seen = Cut(morning + Duration.FromMinutes(dice.Between(0, 1200)));
            var fixture = dice.Weighted([.. layout.Fixtures.Where(fixture => fixture.Kind.IsUsedOnBoard()).Select(fixture => (fixture, DemoFaults.Weight(fixture, tail.Registration.Value, layout.Code, seen, now)))]);
            if (_past.Any(one => one.IsActive && one.Position == fixture.Position))
            {
                continue;
            }

            Run(fixture, DemoFaults.SymptomAt(fixture.Kind, dice), seen, dice.Chance(0.02));
        }
    }

    public void ReportedNow() => WriteUp(Sink(), Symptom.DrainsSlowly, LeakAnswer.NoneSeen, "", Cut(now - Duration.FromMinutes(dice.Between(15, 90))));

    /// <summary>Pours at the galley sinks, from the last time each drain was opened: a clean one, then one every few days as it fills.</summary>
    public void PourNowAndThen(Dice chance)
    {
        foreach (var sink in layout.Fixtures.Where(fixture => fixture.Kind == FixtureKind.GalleySink && PourQuestions.WhyNotAt(layout, fixture.Position) is null))
        {
            var way = CabinDrains.PathOf(layout, sink.Position).Select(node => node.Position).ToHashSet();
            var opened = Made.OfType<WorkDone>().Where(work => way.Contains(work.FoundAt)).Select(work => work.CompletedAt).DefaultIfEmpty(now - Duration.FromDays(28)).Max();
            var at = Cut(Instant.Max(opened, now - Duration.FromDays(60)) + Duration.FromMinutes(12));
            var (clean, lost) = (chance.Between(150, 220) / 10.0, chance.Between(3, 18) / 1000.0);
            Pour? reference = null;
            for (var began = at; at < now - Duration.FromHours(26); at = Cut(at + Duration.FromHours(chance.Between(40, 110))))
            {
                var open = reference is null ? 1 : Math.Max(0.2, 1 - (lost * (at - began).TotalDays)) * (1 + (chance.Between(-25, 25) / 1000.0));
                reference = TimeAPour(sink, null, clean / open, reference, at) ?? reference;
            }
        }
    }

    public void OpenNow()
    {
        var toilet = Free(FixtureKind.Toilet);
        var defect = WriteUp(toilet, Symptom.DoesNotFlush, LeakAnswer.NoneSeen, "", Cut(now - Duration.FromMinutes(140)));
        Sort(defect, now - Duration.FromMinutes(60));
    }

    /// <summary>Two toilets out on one aircraft, before a long sector.</summary>
    public void TwoToiletsOut()
    {
        OpenNow();
        OpenNow();
    }

    /// <summary>A toilet that somebody has, with a breaker pulled and a part on its way.</summary>
    public void WaitingForAPart()
    {
        var by = cast.Any(Role.Technician, dice);
        var defect = WriteUp(Free(FixtureKind.Toilet), Symptom.DoesNotFlush, LeakAnswer.NoneSeen, "", Cut(now - Duration.FromMinutes(200)));
        Sort(defect, now - Duration.FromMinutes(120));
        var at = Cut(now - Duration.FromMinutes(70));
        Do(defect.TakeOver(by, at), by, at);
        Do(DisturbedThing.Note(new DisturbedId(NewId.At(at)), defect, DisturbedKind.Breaker, "flush control, pulled and tagged", by, at, out var thing), by, at);
        Do(Part.Note(new PartId(NewId.At(at)), defect, new PartTerms(PartState.Awaited, "Flush controller", "FC-210 (invented)", "1", "", "", true), null, false, by, at, out var part), by, at);
        Made.AddRange([thing!, part!]);
    }

    /// <summary>Closed at an outstation with a part that had no release certificate: its own clock runs.</summary>
    public void FittedWithoutCertificate()
    {
        var by = cast.Any(Role.Technician, dice);
        var toilet = Free(FixtureKind.Toilet);
        var defect = WriteUp(toilet, Symptom.DoesNotFlush, LeakAnswer.NoneSeen, "", Cut(now - Duration.FromHours(20)));
        Sort(defect, now - Duration.FromHours(19));
        var at = Cut(now - Duration.FromHours(18));
        Do(Part.Note(new PartId(NewId.At(at)), defect, new PartTerms(PartState.Fitted, "Rinse valve", "RV-88 (invented)", "1", "B-4471", "", true), null, false, by, at, out var part), by, at);
        Made.Add(part!);
        Work(defect, toilet, Cut(at + Duration.FromMinutes(5)), Found.FailedPart, release: true, Symptom.DoesNotFlush);
    }

    public void LeakNow()
    {
        var basin = Free(FixtureKind.LavatoryBasin);
        var defect = WriteUp(basin, Symptom.Leaks, LeakAnswer.Leaking, "under the basin, drips on the floor panel", Cut(now - Duration.FromMinutes(75)));
        Sort(defect, now - Duration.FromMinutes(40));
    }

    public void AwaitingRelease()
    {
        var sink = Sink();
        var defect = WriteUp(sink, Symptom.DoesNotDrain, LeakAnswer.NoneSeen, "", Cut(now - Duration.FromMinutes(180)));
        Sort(defect, now - Duration.FromMinutes(100));
        var reference = TimeAPour(sink, null, 17.4, null, Cut(now - Duration.FromDays(40)));
        TimeAPour(sink, defect, 46.2, reference, Cut(now - Duration.FromMinutes(80)));
        Work(defect, sink, Cut(now - Duration.FromMinutes(25)), Found.Grounds, release: false);
        TimeAPour(sink, defect, 17.9, reference, Cut(now - Duration.FromMinutes(22)));
    }

    public void Proposed()
    {
        var defect = WriteUp(Sink(), Symptom.DrainsSlowly, LeakAnswer.NoneSeen, "", Cut(now - Duration.FromMinutes(160)));
        Sort(defect, now - Duration.FromMinutes(90));
        Carry(defect, bases.Single(basis => basis.Code == "38-10-01"), now - Duration.FromMinutes(30), complete: false);
    }

    /// <summary>Carried under a limit in flights, whichever of days and cycles comes first.</summary>
    public void CountedInFlights(IReadOnlyList<ClockSector> flights)
    {
        var defect = WriteUp(Sink(), Symptom.DoesNotDrain, LeakAnswer.NoneSeen, "", Cut(now - Duration.FromDays(2)));
        Sort(defect, defect.SeenAt + Duration.FromMinutes(50));
        Carry(defect, bases.Single(basis => basis.Code == "38-10-06"), defect.SeenAt + Duration.FromMinutes(80), complete: true, flights);
    }

    /// <summary>Carried where few stations can do the work and few stays are long enough for it.</summary>
    public void VacuumGeneratorOut()
    {
        var defect = WriteUp(Free(FixtureKind.VacuumGenerator), Symptom.Other, LeakAnswer.NoneSeen, "", Cut(now - Duration.FromDays(1)));
        Sort(defect, defect.SeenAt + Duration.FromMinutes(50));
        Carry(defect, bases.Single(basis => basis.Code == "38-30-02"), defect.SeenAt + Duration.FromMinutes(80), complete: true);
    }

    /// <summary>A mast whose heater does not work is carried: what drains to it is shut off.</summary>
    public void MastHeaterOut()
    {
        var defect = WriteUp(Free(FixtureKind.DrainMast), Symptom.Other, LeakAnswer.NoneSeen, "", Cut(now - Duration.FromHours(30)));
        Sort(defect, defect.SeenAt + Duration.FromMinutes(50));
        Carry(defect, bases.Single(basis => basis.Code == "30-70-01"), defect.SeenAt + Duration.FromMinutes(80), complete: true);
    }

    public void DeferredSince(int days, Category category)
    {
        var defect = WriteUp(Sink(), Symptom.DrainsSlowly, LeakAnswer.NoneSeen, "", Cut(now - Duration.FromDays(days)));
        Sort(defect, defect.SeenAt + Duration.FromMinutes(50));
        Carry(defect, bases.First(basis => basis.Terms.Category == category && basis.Terms.Kinds.Contains(FixtureKind.GalleySink)), defect.SeenAt + Duration.FromMinutes(80), complete: true);
    }

    private Fixture Sink() => Free(FixtureKind.GalleySink);

    private Fixture Free(FixtureKind kind)
    {
        var all = layout.Fixtures.Where(fixture => fixture.Kind == kind).ToArray();
        var free = all.Where(fixture => !_past.Any(one => one.IsActive && one.Position == fixture.Position)).ToArray();
        return dice.Pick(free.Length > 0 ? free : all);
    }

    private void Run(Fixture fixture, Symptom symptom, Instant seen, bool inError)
    {
        var leak = symptom == Symptom.Leaks ? LeakAnswer.Leaking : dice.Weighted([(LeakAnswer.NoneSeen, 82), (LeakAnswer.DidNotLook, 18)]);
        var defect = WriteUp(fixture, symptom, leak, leak == LeakAnswer.Leaking ? "at the trap" : "", seen);
        var sorted = Cut(seen + Duration.FromMinutes(dice.Between(30, 240)));
        if (sorted > now)
        {
            return;
        }

        if (inError)
        {
            Do(defect.CloseInError("Reported on the wrong tail.", new LogReference(LogBook.Technical, $"{_page:0000}", "7", Cut(sorted)), LogMode.BesideLog, sorted), cast.Any(Role.ShiftLead, dice), sorted);
            return;
        }

        Sort(defect, sorted);
        var fixedAt = Cut(sorted + Duration.FromMinutes(dice.Between(25, 300)));
        if (defect.Leak == LeakAnswer.NoneSeen && dice.Chance(0.22) && sorted < now - Duration.FromHours(1) && bases.FirstOrDefault(basis => basis.Covers(fixture.Kind, layout.Code) && basis.Terms.Category is Category.B or Category.C) is { } basis)
        {
            var days = basis.Terms.Category == Category.B ? 3 : 10;
            var carried = Carry(defect, basis, Cut(sorted + Duration.FromMinutes(40)), complete: true);
            fixedAt = carried is null ? fixedAt : Cut(sorted + Duration.FromHours(dice.Between(10, (days * 24) - 4)));
        }

        // The release follows within a quarter of an hour, and nothing in the demo lies in the future.
        if (fixedAt < now - Duration.FromMinutes(20))
        {
            Work(defect, fixture, fixedAt, null, release: true, symptom);
            Echo(fixture, symptom, fixedAt);
        }
    }

    /// <summary>A rogue fixture, or one whose cause was not found, is back within days.</summary>
    private void Echo(Fixture fixture, Symptom symptom, Instant after)
    {
        var rogue = DemoFaults.Rogues.Contains((tail.Registration.Value, fixture.Position.Value));
        if (symptom.Family() == SymptomFamily.Draining && dice.Chance(rogue ? 0.45 : 0.04))
        {
            var again = Cut(after + Duration.FromHours(dice.Between(20, 110)));
            if (again < now - Duration.FromHours(2))
            {
                Run(fixture, symptom, again, false);
            }
        }
    }

    private Defect WriteUp(Fixture fixture, Symptom symptom, LeakAnswer leak, string where, Instant seen)
    {
        var by = cast.Any(Role.CabinCrew, dice);
        var received = Cut(seen + Duration.FromMinutes(dice.Between(0, 12)));
        var log = new LogReference(LogBook.Cabin, $"{++_page:0000}", $"{dice.Between(1, 5)}", Cut(seen + Duration.FromMinutes(2)));
        var sighting = new Sighting(fixture.Position, symptom, leak, where, dice.Chance(0.7) ? FlightPhase.InFlight : FlightPhase.OnGround, dice.Pick(CrewWords), seen, seen, log);
        var defect = new Defect(new DefectId(NewId.At(received)), tail.Id, sighting, received);
        var report = new Report(new ReportId(NewId.At(received)), defect.Id, tail.Id, sighting, by.Person, by.Name, received);
        Made.Add(defect);
        Made.Add(report);
        Deeds.Add(new Deed(ReportFact.Of(report, defect), by, received));
        _past.Add(defect);
        return defect;
    }

    /// <summary>One pour from mark to mark; answers it when it is the clean reference.</summary>
    private Pour? TimeAPour(Fixture sink, Defect? defect, double seconds, Pour? reference, Instant at)
    {
        var by = cast.Any(Role.Technician, dice);
        var terms = new PourTerms(PourMeasure.Marks(120, 20), (long)(seconds * 1000), Pour.HandUncertaintyMilliseconds, reference is null || seconds < 25 ? PourRun.Freely : PourRun.Slowly, reference is null, at, [.. PourQuestions.For(layout, sink.Position).Select(question => question.Code)]);
        Do(Pour.Time(new PourId(NewId.At(at)), tail, layout, sink.Position, defect, defect?.State == DefectState.WorkDone ? at - Duration.FromMinutes(1) : null, terms, reference, Station.UsualSlowPercent, by, at, out var made), by, at);
        Made.Add(made!);
        return reference is null ? made : null;
    }

    private void Sort(Defect defect, Instant at) =>
        Do(defect.Sort(defect.Symptom, defect.Leak, defect.LeakWhere, null, LogMode.BesideLog), cast.Any(Role.Technician, dice), Cut(at));

    private Deferral? Carry(Defect defect, DeferralBasis basis, Instant at, bool complete, IReadOnlyList<ClockSector>? flights = null)
    {
        var counted = flights ?? [];
        at = Cut(at);
        var (technician, control, certifier) = (cast.Any(Role.Technician, dice), cast.Any(Role.MaintenanceController, dice), cast.Any(Role.CertifyingTechnician, dice));
        var all = Enumerable.Range(0, basis.Terms.Conditions.Count).ToArray();
        var terms = new DeferralTerms(basis.Terms.Installed, basis.Terms.Required, all, basis.Terms.PlacardRequired, "above the fixture", "");
        var zone = DateTimeZone.Utc;
        var decision = Deferral.Propose(new DeferralId(NewId.At(at)), defect, layout.Find(defect.Position)!, layout, basis, DeferralPolicies.Us, zone, counted, null, null, terms, null, LogMode.BesideLog, technician, at, out var made);
        if (made is null)
        {
            return null;
        }

        Made.Add(made);
        Do(decision, technician, at);
        if (complete)
        {
            Do(made.Authorise(defect, $"MC-{dice.Between(1000, 9999)}", counted, control, at + Duration.FromMinutes(6)), control, at + Duration.FromMinutes(6));
            Do(made.Certify(defect, counted, LooseEnds.None, PlaceAt(defect), certifier, at + Duration.FromMinutes(9)), certifier, at + Duration.FromMinutes(9));
        }

        return made;
    }

    private void Work(Defect defect, Fixture fixture, Instant at, Found? force, bool release, Symptom? symptom = null)
    {
        var technician = cast.Any(Role.Technician, dice);
        var (found, where, steps, manual, minutes) = DemoFaults.Fix(fixture, layout, tail.Registration.Value, symptom ?? defect.Symptom, dice);
        var passed = new Check(true, "", technician.Name, at);
        var job = OnCard(defect, fixture, where, at - Duration.FromMinutes(minutes), technician);
        var terms = new WorkTerms(force ?? found, where, job?.Card.ManualReference ?? manual, steps, at, minutes, passed, passed, job is { } on ? new CardWork(on.Job.Id, on.Card.Code, on.Card.Version, on.Card.Title, on.Job.StartedAt) : null);
        Do(WorkDone.Record(new RectificationId(NewId.At(at)), defect, layout, terms, technician, at, out var work), technician, at);
        Made.Add(work!);
        job?.Job.Finish(at);
        if (!release)
        {
            return;
        }

        var certifier = cast.Any(Role.CertifyingTechnician, dice);
        var signed = at + Duration.FromMinutes(dice.Between(3, 15));
        var deferral = Made.OfType<Deferral>().FirstOrDefault(one => one.Id == defect.Deferral);
        var outcome = work!.Found == Found.Nothing ? WorkOutcome.NoFaultFound : WorkOutcome.Rectified;
        Do(work.SignRelease(defect, deferral, new ReleaseTerms(outcome, "", new LogReference(LogBook.Technical, $"{_page:0000}", "6", at)), LooseEnds.None, LogMode.BesideLog, PlaceAt(defect), certifier, signed), certifier, signed);
    }

    /// <summary>What was found at a strainer was found on its work card.</summary>
    private (Job Job, WorkCard Card)? OnCard(Defect defect, Fixture fixture, Position where, Instant began, Actor by)
    {
        var code = layout.Find(where)!.Kind != FixtureKind.Strainer ? null : fixture.Kind switch { FixtureKind.GalleySink => "sink-strainer", FixtureKind.LavatoryBasin => "basin-strainer", _ => null };
        if (code is null)
        {
            return null;
        }

        var (card, at) = (cards.Single(card => card.Code == code), Instant.Max(began, Deeds.Where(deed => deed.Fact.Subject == defect.Id.Value).Max(deed => deed.At)));
        Do(Job.Start(new JobId(NewId.At(at)), defect, fixture, card, null, by, at, out var job), by, at);
        Made.Add(job!);
        return (job!, card);
    }

    private SigningPlace PlaceAt(Defect defect) => new(DateTimeZone.Utc, null, layout.Code, layout.Find(defect.Position)!.Kind, false);

    private void Do(Decision decision, Actor by, Instant at) =>
        Deeds.Add(decision is Decision.Done done ? new Deed(done.Fact, by, at) : throw new InvalidOperationException($"The demo asked for something unlawful: {((Decision.Refused)decision).Refusal.Words}"));

    // Holidays and the winter fill the cabins, and the drains.
    private static double Busy(Instant at) => at.InUtc().Month is 7 or 8 or 12 ? 1.25 : 1.0;

    private static Instant Cut(Instant at) => MicrosecondClock.Cut(at);
}
