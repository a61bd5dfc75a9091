using Drainboard.Domain.Accounts;
using Drainboard.Domain.Defects;
using Drainboard.Domain.Fleet;
using Drainboard.Domain.Records;
using NodaTime;

namespace Drainboard.Domain.Deferrals;

/// <summary>
/// A defect carried on a basis. It is proposed, and begins only when everything its basis requires is there: conditions
/// done, placard fitted, control's authorisation, the certifying signature. From then its clock runs, counted from
/// <see cref="RecordedAt"/>, whenever it was signed. It keeps the basis' revision and the policy version it began under.
/// </summary>
public sealed class Deferral
{
    private Deferral()
    {
    }

    public DeferralId Id { get; private set; }

    public DefectId Defect { get; private set; }

    public TailId Tail { get; private set; }

    public BasisKind BasisKind { get; private set; }

    public string BasisCode { get; private set; } = "";

    public BasisTerms Basis { get; private set; } = BasisTerms.Empty;

    public string PolicyName { get; private set; } = "";

    public int PolicyVersion { get; private set; }

    /// <summary>In which calendar it is counted: the operator's choice at the time it was proposed.</summary>
    public TimeBase TimeBase { get; private set; }

    /// <summary>The policy version and time base that it began under.</summary>
    public DeferralPolicy Policy => (DeferralPolicies.Find(PolicyName, PolicyVersion) ?? DeferralPolicies.Us) with { TimeBase = TimeBase };

    /// <summary>IANA name of the zone in which local days are counted: that of the station where it is proposed.</summary>
    public string Zone { get; private set; } = "";

    public string TimeZoneData { get; private set; } = "";

    public int Installed { get; private set; }

    public int Required { get; private set; }

    public IReadOnlyList<ConditionDone> Conditions { get; private set; } = [];

    public bool PlacardFitted { get; private set; }

    public string PlacardWhere { get; private set; } = "";

    public string Words { get; private set; } = "";

    public LogReference? Log { get; private set; }

    /// <summary>The instant that starts the count; the original one when the same defect is deferred again.</summary>
    public Instant RecordedAt { get; private set; }

    public Signature? Control { get; private set; }

    public string ControlReference { get; private set; } = "";

    public Signature? Certified { get; private set; }

    public Instant ProposedAt { get; private set; }

    public Instant? BeganAt { get; private set; }

    /// <summary>Derived by <see cref="DeferralClock"/> when it begins and when it is extended; stored for the order of Clocks.</summary>
    public Instant? DueAt { get; private set; }

    public Instant? StartsAt { get; private set; }

    public Instant? EndedAt { get; private set; }

    public string EndReason { get; private set; } = "";

    public IReadOnlyList<Extension> Extensions { get; private set; } = [];

    public long Version { get; private set; }

    /// <summary>Whether the policy leaves an extension at all; how long and whether in time is asked when it is wished for.</summary>
    public bool MayBeExtended => Basis.Category is { } category && Policy.Extendable.Contains(category) && (Policy.MaxExtensions is not { } most || Extensions.Count < most);

    /// <summary>The longest extension: no longer than the interval (ORO.MLR.105(f)(2)).</summary>
    public int LongestExtension => Basis.Category is { } category ? Basis.IntervalDays ?? Policy.Days.For(category) ?? 0 : 0;

    public bool IsRunning => BeganAt is not null && EndedAt is null;

    /// <summary>Proposes to carry a defect. On <see cref="Decision.Done"/> <paramref name="made"/> is the deferral to store.</summary>
    public static Decision Propose(DeferralId id, Defect defect, Fixture fixture, CabinLayout layout, DeferralBasis basis, DeferralPolicy policy, DateTimeZone zone, DeferralTerms terms, LogReference? log, LogMode mode, Actor by, Instant now, out Deferral? made)
    {
        made = null;
        if (Lifecycle.WhyNot(defect.State, Act.ProposeDeferral) is { } no)
        {
            return no;
        }

        if (WhyNot(defect, fixture, layout, basis, terms) is { } unfit)
        {
            return unfit;
        }

        if (basis.Terms.Category is { } category && DeferralClock.WhyNot(policy, category, basis.Terms.IntervalDays) is { } unset)
        {
            return unset;
        }

        if (mode == LogMode.BesideLog && log is null && defect.Log is null)
        {
            return new Refusal("no-log-reference", "Enter the log page and line of the deferral: the aircraft log governs.");
        }

        made = new Deferral
        {
            Id = id,
            Defect = defect.Id,
            Tail = defect.Tail,
            BasisKind = basis.Kind,
            BasisCode = basis.Code,
            Basis = basis.Terms,
            PolicyName = policy.Name,
            PolicyVersion = policy.Version,
            TimeBase = policy.TimeBase,
            Zone = zone.Id,
            Installed = terms.Installed,
            Required = terms.Required,
            Conditions = [.. basis.Terms.Conditions.Select(condition => new ConditionDone(condition.Kind, condition.Words, null, null))],
            Words = terms.Words.Trim(),
            Log = log ?? defect.Log,
            RecordedAt = defect.RecordedAt,
            ProposedAt = now,
        };
        if (made.WhyNotInTime(zone, now) is { } late)
        {
            made = null;
            return late;
        }

        made.Tick(terms.ConditionsDone, terms.PlacardFitted, terms.PlacardWhere, by.Name, now);
        defect.Propose(id);
        var proposed = defect.Fact("deferral.proposed", $"Deferral proposed under {made.BasisWords()}.")
            .With("basis", basis.Code).With("revision", basis.Terms.Revision).With("category", basis.Terms.Category?.ToString()).With("installed", terms.Installed).With("required", terms.Required)
            .With("conditionsDone", made.Conditions.Count(condition => condition.IsDone)).With("placardFitted", made.PlacardFitted).With("policy", $"{policy.Name} {policy.Version}").With("recordedAt", made.RecordedAt);

        // An item that asks for nothing more begins at once.
        return made.Begin(defect, policy, zone, now, proposed);
    }

    /// <summary>Ticks conditions and the placard. Nothing ticked is unticked: end the deferral if a condition no longer holds.</summary>
    public Decision Prepare(Defect defect, IReadOnlyList<int> conditionsDone, bool placardFitted, string placardWhere, DeferralPolicy policy, DateTimeZone zone, Actor by, Instant now)
    {
        if (WhyNotSigned(defect, Act.PrepareDeferral, null, zone, now) is { } no)
        {
            return no;
        }

        if (conditionsDone.Any(index => index < 0 || index >= Conditions.Count))
        {
            return new Refusal("no-such-condition", $"This item has {Conditions.Count} conditions; a tick named another.");
        }

        if (placardFitted && Basis.PlacardRequired && !PlacardFitted && placardWhere.Trim().Length == 0)
        {
            return NoPlace;
        }

        if (!(placardFitted && !PlacardFitted) && conditionsDone.All(index => Conditions[index].IsDone))
        {
            return new Refusal("nothing-ticked", "Nothing new is ticked.");
        }

        Tick(conditionsDone, placardFitted, placardWhere, by.Name, now);
        return Begin(defect, policy, zone, now, defect.Fact("deferral.prepared", $"Conditions done: {Conditions.Count(condition => condition.IsDone)} of {Conditions.Count}; placard {(PlacardFitted ? "fitted" : "not fitted")}.")
            .With("conditionsDone", Conditions.Count(condition => condition.IsDone)).With("placardFitted", PlacardFitted));
    }

    public Decision Authorise(Defect defect, string reference, DeferralPolicy policy, DateTimeZone zone, Actor by, Instant now)
    {
        if (WhyNotSigned(defect, Act.AuthoriseDeferral, Control, zone, now) is { } no)
        {
            return no;
        }

        Control = new Signature(by.Person, by.Name, by.Authorisation?.Number ?? "", by.Authorisation?.Kind ?? "", by.Authorisation?.Organisation ?? "", now);
        ControlReference = reference.Trim();
        return Begin(defect, policy, zone, now, defect.Fact("deferral.authorised", $"Control authorises the deferral{(ControlReference.Length > 0 ? $", reference {ControlReference}" : "")}.").With("reference", ControlReference));
    }

    public Decision Certify(Defect defect, DeferralPolicy policy, DateTimeZone zone, Actor by, Instant now)
    {
        if (WhyNotSigned(defect, Act.CertifyDeferral, Certified, zone, now) is { } no)
        {
            return no;
        }

        if (Signature.WhyNot(by, zone, now) is { } unsigned)
        {
            return unsigned;
        }

        if (Missing().Where(what => what.Code is "conditions" or "placard").Select(what => what.Words).ToArray() is { Length: > 0 } undone)
        {
            return new Refusal("not-prepared", $"Before it is certified: {string.Join("; ", undone)}.");
        }

        Certified = Signature.By(by, now);
        return Begin(defect, policy, zone, now, defect.Fact("deferral.certified", "Deferral certified.").With("kind", Certified.Kind));
    }

    public Decision Extend(Defect defect, int days, string reason, DeferralPolicy policy, DateTimeZone zone, Actor by, Instant now)
    {
        if (Lifecycle.WhyNot(defect.State, Act.ExtendDeferral) is { } no)
        {
            return no;
        }

        if (WhyNotExtend(days, reason, policy, now) is { } refused)
        {
            return refused;
        }

        Extensions = [.. Extensions, new Extension(days, reason.Trim(), by.Name, now, policy.NotifyWithin is { } within ? now + within : null)];
        Run(policy, zone);
        return defect.Fact("deferral.extended", $"Extended by {days} days: {reason.Trim()}").With("days", days).With("reason", reason.Trim()).With("dueAt", DueAt);
    }

    /// <summary>Ends a running deferral without work, or withdraws a proposed one: the defect is open again.</summary>
    public Decision End(Defect defect, string reason, Instant now)
    {
        if (WhyNotOpen(defect, Act.EndDeferral) is { } no)
        {
            return no;
        }

        if (reason.Trim().Length == 0)
        {
            return new Refusal("no-reason", "Say why the deferral ends.");
        }

        if (IsRunning && DueAt <= now)
        {
            defect.Lapse();
        }

        var words = BeganAt is null ? "Proposed deferral withdrawn" : "Deferral ended";
        Finish(reason.Trim(), now);
        defect.Reopen();
        return defect.Fact("deferral.ended", $"{words}: {reason.Trim()}").With("reason", reason.Trim());
    }

    /// <summary>A report that was logged earlier has been joined to the defect: the count starts from that entry.</summary>
    public void CountFrom(Instant recordedAt, DateTimeZone zone)
    {
        if (recordedAt < RecordedAt)
        {
            RecordedAt = recordedAt;
            if (IsRunning)
            {
                Run(Policy, zone);
            }
        }
    }

    /// <summary>The clock, or null where the basis has no interval (a cabin item without category).</summary>
    public ClockReading? ReadClock(DeferralPolicy policy, DateTimeZone zone) =>
        Basis.Category is { } category
            ? DeferralClock.Read(new ClockQuestion(policy, category, RecordedAt, zone, Basis.IntervalDays, null, Extensions.Sum(extension => extension.Days)))
            : null;

    /// <summary>What is still missing before it can begin, each with a code and words.</summary>
    public IReadOnlyList<Refusal> Missing()
    {
        var missing = new List<Refusal>();
        if (Conditions.Count(condition => !condition.IsDone) is var undone and > 0)
        {
            missing.Add(new("conditions", $"{undone} of {Conditions.Count} conditions not done"));
        }

        if (Basis.PlacardRequired && !PlacardFitted)
        {
            missing.Add(new("placard", "placard not fitted"));
        }

        if (Basis.ControlRequired && Control is null)
        {
            missing.Add(new("control", "control has not authorised it"));
        }

        if (Basis.CertifyingRequired && Certified is null)
        {
            missing.Add(new("certifying", "the certifying technician has not signed"));
        }

        return missing;
    }

    public string BasisWords() => $"{DeferralBasis.Words(BasisKind)} {BasisCode} rev {Basis.Revision}{(Basis.Category is { } category ? $", cat {category}" : "")}";

    internal void Finish(string reason, Instant now) => (EndedAt, EndReason) = (now, reason);

    private static Refusal? WhyNot(Defect defect, Fixture fixture, CabinLayout layout, DeferralBasis basis, DeferralTerms terms) =>
        defect.HasLapsed
            ? new Refusal("lapsed", "A deferral of this defect has lapsed. After a lapse it is not deferred again: rectify it.")
        : defect.Deferral is not null
            ? new Refusal("has-deferral", "A deferral is already proposed on this defect. Complete it or withdraw it.")
        : !basis.Covers(fixture, layout)
            ? new Refusal("basis-does-not-fit", $"{basis.Code} does not cover a {fixture.Kind.Words()} on layout {layout.Code}. Choose an item whose effectivity does.")
        : !basis.Terms.LeakAllowed && defect.Leak == LeakAnswer.Leaking
            ? new Refusal("leak-not-allowed", $"{basis.Code} allows no leak, and this leaks ({defect.LeakWhere}). Shutting the supply does not stop a leak of what is already in a drain. Rectify it, or use an item that covers the leak.")
        : !basis.Terms.LeakAllowed && defect.Leak == LeakAnswer.DidNotLook
            ? new Refusal("leak-not-looked", $"{basis.Code} allows no leak, and nobody has looked. Look, and answer the leak question first.")
        : terms.Installed < 0 || terms.Required < 0 || terms.Required > terms.Installed
            ? new Refusal("numbers", "Number installed and number required are counts, and no more can be required than are installed.")
        : terms.PlacardFitted && basis.Terms.PlacardRequired && terms.PlacardWhere.Trim().Length == 0
            ? NoPlace
        : terms.ConditionsDone.Any(index => index < 0 || index >= basis.Terms.Conditions.Count)
            ? new Refusal("no-such-condition", $"{basis.Code} has {basis.Terms.Conditions.Count} conditions; a tick named another.")
        : null;

    private Refusal? WhyNotExtend(int days, string reason, DeferralPolicy policy, Instant now)
    {
        if (Basis.Category is not { } category || DueAt is not { } due)
        {
            return new Refusal("no-clock", "This basis has no interval, so there is nothing to extend.");
        }

        var interval = LongestExtension;
        return now >= due
                ? new Refusal("lapsed", "This clock has lapsed. A lapsed deferral is not extended (ORO.MLR.105(e)(3)); the aircraft does not depart with it. The repair itself may go on.")
            : !policy.Extendable.Contains(category)
                ? new Refusal("not-extendable", $"Under \"{policy.Name}\" category {category} is not extended ({policy.SourceOf("extendable").Source}).")
            : policy.MaxExtensions is { } most && Extensions.Count >= most
                ? new Refusal("extended-before", $"It has been extended {Extensions.Count} time{(Extensions.Count == 1 ? "" : "s")}; \"{policy.Name}\" allows {most} ({policy.SourceOf("maxExtensions").Source}).")
            : days <= 0 || days > interval
                ? new Refusal("extension-too-long", $"An extension is 1 to {interval} days: no longer than the interval in the MEL.")
            : reason.Trim().Length == 0
                ? new Refusal("no-reason", "Say why it cannot be rectified in time, and the plan. An extension is not a normal means.")
            : null;
    }

    /// <summary>Ends it when the defect leaks and the basis allows none; answers whether it did.</summary>
    public bool EndForALeak(Defect defect, Instant now)
    {
        if (Basis.LeakAllowed || defect.Leak != LeakAnswer.Leaking || EndedAt is not null)
        {
            return false;
        }

        Finish("It leaks, and the basis allows none.", now);
        defect.Reopen();
        return true;
    }

    private static Refusal NoPlace { get; } = new("placard-where", "The placard is fitted: say where.");

    private Refusal? WhyNotInTime(DateTimeZone zone, Instant now) =>
        ReadClock(Policy, zone) is { } clock && clock.HasLapsed(now)
            ? new Refusal("would-have-lapsed", "Counted from the original entry, this deferral would have lapsed already. The original date is kept (AMC M.A.403(d)). Rectify it.")
            : null;

    private Refusal? WhyNotSigned(Defect defect, Act act, Signature? before, DateTimeZone zone, Instant now) =>
        WhyNotOpen(defect, act)
        ?? (before is null ? null : new Refusal("signed-before", $"{before.Name} has done this already. Withdraw the proposal if it must be done anew."))
        ?? WhyNotInTime(zone, now);

    private Refusal? WhyNotOpen(Defect defect, Act act) =>
        Lifecycle.WhyNot(defect.State, act)
        ?? (defect.Deferral == Id && EndedAt is null ? null : new Refusal("no-deferral", "No deferral is proposed on this defect."));

    private void Tick(IReadOnlyList<int> done, bool placardFitted, string placardWhere, string by, Instant now)
    {
        Conditions = [.. Conditions.Select((condition, index) => !condition.IsDone && done.Contains(index) ? condition with { By = by, At = now } : condition)];
        if (placardFitted && !PlacardFitted)
        {
            (PlacardFitted, PlacardWhere) = (true, placardWhere.Trim());
        }
    }

    private Fact Begin(Defect defect, DeferralPolicy policy, DateTimeZone zone, Instant now, Fact step)
    {
        if (Missing().Count > 0)
        {
            return step;
        }

        BeganAt = now;
        Run(policy, zone);
        defect.Defer();
        return defect.Fact("deferral.began", $"{step.Words} Deferred under {BasisWords()}.")
            .With("basis", BasisCode).With("dueAt", DueAt).With("recordedAt", RecordedAt).With("certifiedKind", Certified?.Kind).With("reference", ControlReference).Including(step);
    }

    private void Run(DeferralPolicy policy, DateTimeZone zone)
    {
        var clock = ReadClock(policy, zone);
        (StartsAt, DueAt, TimeZoneData) = (clock?.StartsAt, clock?.DueAt, DateTimeZoneProviders.Tzdb.VersionId);
    }
}
