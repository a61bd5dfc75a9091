using Drainboard.Domain.Accounts;
using Drainboard.Domain.Cards;
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

    /// <summary>The policy as it stood when this was proposed. Another version later does not touch it.</summary>
    public DeferralPolicy Policy { get; private set; } = DeferralPolicies.Us;

    /// <summary>IANA name of the zone of the station where it is proposed; local days are counted in it.</summary>
    public string Zone { get; private set; } = "";

    public string TimeZoneData { get; private set; } = "";

    public int Installed { get; private set; }

    public int Required { get; private set; }

    public IReadOnlyList<ConditionDone> Conditions { get; private set; } = [];

    public bool PlacardFitted { get; private set; }

    public string PlacardWhere { get; private set; } = "";

    public string Words { get; private set; } = "";

    public LogReference? Log { get; private set; }

    /// <summary>The instant that starts the count, as the policy names it; the original one when the same defect is deferred again.</summary>
    public Instant RecordedAt { get; private set; }

    /// <summary>Hours and cycles count from here: the first deferral of this defect began then, and deferring it again does not start them anew.</summary>
    public Instant? CountedFrom { get; private set; }

    /// <summary>By when the authority must have been told of an extension and has not been; outlives the deferral itself.</summary>
    public Instant? NoticeDueAt { get; private set; }

    /// <summary>A like deferral of this fixture that ended shortly before: control decides whether this renews its clock.</summary>
    public DeferralId? RenewalOf { get; private set; }

    public Signature? Control { get; private set; }

    public string ControlReference { get; private set; } = "";

    public Signature? Certified { get; private set; }

    public Instant ProposedAt { get; private set; }

    public Instant? BeganAt { get; private set; }

    /// <summary>Derived by <see cref="DeferralClock"/> when it begins and when it is extended; stored for the order of Clocks.</summary>
    public Instant? DueAt { get; private set; }

    public Instant? StartsAt { get; private set; }

    /// <summary>The limit that comes first; null while the flights known use none up.</summary>
    public ClockUnit? Binding { get; private set; }

    /// <summary>Grows with every move of the clock and with its end; subscribers of a calendar tell old from new by it (RFC 5545, SEQUENCE).</summary>
    public int ClockRevision { get; private set; }

    public Instant? EndedAt { get; private set; }

    public string EndReason { get; private set; } = "";

    public IReadOnlyList<Extension> Extensions { get; private set; } = [];

    public long Version { get; private set; }

    /// <summary>Whether the policy leaves an extension at all; how long and whether in time is asked when it is wished for.</summary>
    public bool MayBeExtended => Basis.Category is { } category && Interval is not null && Policy.Extendable.For(category) == true && Extensions.Count < Policy.MaxExtensions;

    /// <summary>The longest extension in days: no longer than the interval (ORO.MLR.105(f)(2)).</summary>
    public int LongestExtension => Interval is not { } interval ? 0 : Policy.MaxExtensionDays is { } set ? Math.Min(set, interval) : interval;

    public bool IsRunning => BeganAt is not null && EndedAt is null;

    /// <summary>An extension of which the authority has yet to be told.</summary>
    public Extension? AwaitingNotice => Extensions.FirstOrDefault(extension => extension is { NotifyBy: not null, NotifiedAt: null });

    private DateTimeZone ThisZone => DateTimeZoneProviders.Tzdb[Zone];

    private int? Interval => Basis.Category is { } category
        ? new ClockQuestion(Policy, category, RecordedAt, DateTimeZone.Utc, Basis.IntervalDays) { Limits = Basis.Limits }.Ruling.Where(limit => limit.Unit == ClockUnit.CalendarDays).Select(limit => (int?)limit.Count).Min()
        : null;

    /// <summary>The zone whose days this one counts.</summary>
    public DateTimeZone DayZone() => Policy.ZoneOfDays(ThisZone) ?? DateTimeZone.Utc;

    /// <summary>Proposes to carry a defect. On <see cref="Decision.Done"/> <paramref name="made"/> is the deferral to store.</summary>
    /// <param name="countedFrom">When the first deferral of this same defect began, if it was deferred before.</param>
    /// <param name="before">The like deferral that ended shortly before, if any: then control must authorise this one, whatever the basis asks.</param>
    public static Decision Propose(DeferralId id, Defect defect, Fixture fixture, CabinLayout layout, DeferralBasis basis, DeferralPolicy policy, DateTimeZone zone, IReadOnlyList<ClockSector> sectors, DeferralId? before, Instant? countedFrom, DeferralTerms terms, LogReference? log, LogMode mode, Actor by, Instant now, out Deferral? made)
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

        if (basis.Terms.Category is { } category && WhyNotCounted(policy, category, basis, defect.TimeOf(policy.StartsFrom), zone) is { } uncounted)
        {
            return uncounted;
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
            Policy = policy,
            Zone = zone.Id,
            RenewalOf = before,
            CountedFrom = countedFrom,
            Installed = terms.Installed,
            Required = terms.Required,
            Conditions = [.. basis.ConditionsFor(fixture.Kind).Select(condition => new ConditionDone(condition.Kind, condition.Words, null, null, condition.EveryDays, condition.EachDeparture))],
            Words = terms.Words.Trim(),
            Log = log ?? defect.Log,
            RecordedAt = policy.StartsFrom == ClockStart.Logged && log is { } entry ? Instant.Min(entry.LoggedAt, defect.RecordedAt) : defect.TimeOf(policy.StartsFrom),
            ProposedAt = now,
        };
        if (made.WhyNotInTime(sectors, now) is { } late)
        {
            made = null;
            return late;
        }

        made.Tick(terms.ConditionsDone, terms.PlacardFitted, terms.PlacardWhere, by.Name, now);
        defect.Propose(id);
        var proposed = defect.Fact("deferral.proposed", $"Deferral proposed under {made.BasisWords()}.")
            .With("basis", basis.Code).With("revision", basis.Terms.Revision).With("category", basis.Terms.Category?.ToString()).With("installed", terms.Installed).With("required", terms.Required)
            .With("conditionsDone", made.Conditions.Count(condition => condition.IsDone)).With("placardFitted", made.PlacardFitted).With("policy", $"{policy.Name} {policy.Version}").With("recordedAt", made.RecordedAt).With("renewalOf", before?.Value.ToString());

        // An item that asks for nothing more begins at once.
        return made.Begin(defect, sectors, now, proposed);
    }

    /// <summary>Ticks conditions and the placard. Nothing ticked is unticked: end the deferral if a condition no longer holds.</summary>
    public Decision Prepare(Defect defect, IReadOnlyList<int> conditionsDone, bool placardFitted, string placardWhere, IReadOnlyList<ClockSector> sectors, Actor by, Instant now)
    {
        if (WhyNotSigned(defect, Act.PrepareDeferral, null, sectors, now) is { } no)
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
        return Begin(defect, sectors, now, defect.Fact("deferral.prepared", $"Conditions done: {Conditions.Count(condition => condition.IsDone)} of {Conditions.Count}; placard {(PlacardFitted ? "fitted" : "not fitted")}.")
            .With("conditionsDone", Conditions.Count(condition => condition.IsDone)).With("placardFitted", PlacardFitted));
    }

    public Decision Authorise(Defect defect, string reference, IReadOnlyList<ClockSector> sectors, Actor by, Instant now)
    {
        if (WhyNotSigned(defect, Act.AuthoriseDeferral, Control, sectors, now) is { } no)
        {
            return no;
        }

        Control = new Signature(by.Person, by.Name, by.Authorisation?.Number ?? "", by.Authorisation?.Kind ?? "", by.Authorisation?.Organisation ?? "", now);
        ControlReference = reference.Trim();
        return Begin(defect, sectors, now, defect.Fact("deferral.authorised", $"Control authorises the deferral{(ControlReference.Length > 0 ? $", reference {ControlReference}" : "")}.").With("reference", ControlReference));
    }

    public Decision Certify(Defect defect, IReadOnlyList<ClockSector> sectors, LooseEnds ends, SigningPlace place, Actor by, Instant now)
    {
        if (WhyNotSigned(defect, Act.CertifyDeferral, Certified, sectors, now) is { } no)
        {
            return no;
        }

        if (Signature.WhyNot(by, place, now) is { } unsigned)
        {
            return unsigned;
        }

        if (Missing().Where(what => what.Code is "conditions" or "placard").Select(what => what.Words).ToArray() is { Length: > 0 } undone)
        {
            return new Refusal("not-prepared", $"Before it is certified: {string.Join("; ", undone)}.");
        }

        if (ends.WhyNotDefer() is { } disturbed)
        {
            return disturbed;
        }

        Certified = Signature.By(by, now);
        return Begin(defect, sectors, now, defect.Fact("deferral.certified", "Deferral certified.").With("kind", Certified.Kind).With("organisation", Certified.Organisation).With("approval", Certified.Approval).With("intent", Signature.Intent).With("left", string.Join("; ", ends.Disturbed)));
    }

    /// <param name="approval">The reference of the authority's approval, where the policy asks for one beforehand.</param>
    public Decision Extend(Defect defect, int days, string reason, string approval, IReadOnlyList<ClockSector> sectors, Actor by, Instant now)
    {
        if (Lifecycle.WhyNot(defect.State, Act.ExtendDeferral) is { } no)
        {
            return no;
        }

        if (WhyNotExtend(days, reason, approval, now) is { } refused)
        {
            return refused;
        }

        Extensions = [.. Extensions, new Extension(days, reason.Trim(), by.Name, now, Policy.NotifyWithin?.Deadline(now, DayZone()), approval.Trim())];
        NoticeDueAt = AwaitingNotice?.NotifyBy;
        Run(sectors);
        return defect.Fact("deferral.extended", $"Extended by {days} days: {reason.Trim()}").With("days", days).With("reason", reason.Trim()).With("approval", approval.Trim()).With("dueAt", DueAt);
    }

    /// <summary>The authority has been told of the newest extension that awaited it.</summary>
    public Decision RecordNotice(Defect defect, string reference, Actor by, Instant now)
    {
        if (Lifecycle.WhyNot(defect.State, Act.RecordNotice) is { } no)
        {
            return no;
        }

        if (AwaitingNotice is not { } extension)
        {
            return new Refusal("nothing-to-tell", "No extension of this deferral awaits a notice to the authority.");
        }

        Extensions = [.. Extensions.Select(one => one == extension ? one with { NotifiedAt = now, NotifiedBy = by.Name, NoticeReference = reference.Trim() } : one)];
        NoticeDueAt = AwaitingNotice?.NotifyBy;
        return defect.Fact("deferral.notice", $"The authority was told of the extension{(extension.NotifyBy < now ? ", after its deadline" : "")}.").With("reference", reference.Trim()).With("notifyBy", extension.NotifyBy);
    }

    /// <summary>A condition that is done again and again has been done once more.</summary>
    public Decision DoCondition(Defect defect, int index, Actor by, Instant now)
    {
        if (Lifecycle.WhyNot(defect.State, Act.DoCondition) is { } no)
        {
            return no;
        }

        if (index < 0 || index >= Conditions.Count || !Conditions[index].IsRepeated)
        {
            return new Refusal("not-repeated", "This condition is done once and not again. Choose one that repeats.");
        }

        Conditions = [.. Conditions.Select((condition, at) => at == index ? condition with { By = by.Name, At = now } : condition)];
        return defect.Fact("deferral.condition", $"Done again: {Conditions[index].Words}").With("condition", index);
    }

    /// <summary>Derives the clock anew from the tail's flights; the fact says what moved, null where nothing did.</summary>
    public Fact? Rederive(Defect defect, IReadOnlyList<ClockSector> sectors)
    {
        var (before, binding) = (DueAt, Binding);
        if (!IsRunning || !Basis.CountsFlights)
        {
            return null;
        }

        Run(sectors);
        return before == DueAt && binding == Binding
            ? null
            : defect.Fact("deferral.clock-moved", $"Flights changed: the clock {(DueAt is { } due ? $"now ends {Say(due)}" : "has no end in the flights known")}, before {(before is { } earlier ? Say(earlier) : "none")}.").With("dueAt", DueAt).With("dueBefore", before);
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

    /// <summary>An earlier report has been joined to the defect: the count starts from it, where the policy's time is the earlier.</summary>
    public void CountFrom(Defect defect, IReadOnlyList<ClockSector> sectors)
    {
        if (defect.TimeOf(Policy.StartsFrom) is var earlier && earlier < RecordedAt)
        {
            RecordedAt = earlier;
            if (IsRunning)
            {
                Run(sectors);
            }
        }
    }

    /// <summary>The clock with its explanation, or null where the basis has no interval (a cabin item without category).</summary>
    public ClockReading? ReadClock(IReadOnlyList<ClockSector> sectors, Instant? asOf = null) =>
        Basis.Category is { } category
            ? DeferralClock.Recount(new ClockQuestion(Policy, category, RecordedAt, ThisZone, Basis.IntervalDays)
            {
                Limits = Basis.Limits,
                GrantedDays = Extensions.Sum(extension => extension.Days),
                Sectors = sectors,
                DeferredAt = CountedFrom ?? BeganAt ?? ProposedAt,
                AsOf = asOf,
            })
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

        if ((Basis.ControlRequired || RenewalOf is not null) && Control is null)
        {
            missing.Add(new("control", RenewalOf is null ? "control has not authorised it" : "control has not authorised it: a possible renewal of a clock"));
        }

        if (Basis.CertifyingRequired && Certified is null)
        {
            missing.Add(new("certifying", "the certifying technician has not signed"));
        }

        return missing;
    }

    public string BasisWords() => $"{DeferralBasis.Words(BasisKind)} {BasisCode} rev {Basis.Revision}{(Basis.Category is { } category ? $", cat {category}" : "")}";

    internal void Finish(string reason, Instant now) => (EndedAt, EndReason, ClockRevision) = (now, reason, ClockRevision + 1);

    private static Refusal? WhyNot(Defect defect, Fixture fixture, CabinLayout layout, DeferralBasis basis, DeferralTerms terms) =>
        defect.HasLapsed
            ? new Refusal("lapsed", "A deferral of this defect has lapsed. After a lapse it is not deferred again: rectify it.")
        : defect.Deferral is not null
            ? new Refusal("has-deferral", "A deferral is already proposed on this defect. Complete it or withdraw it.")
        : basis.Terms.RequiredOperableBy.Length > 0
            ? new Refusal("required-operable", $"{basis.Terms.RequiredOperableBy} requires this to be operable, so no MEL item may carry it (14 CFR 121.628(b)(2)). Rectify it before departure.")
        : basis.Kind == BasisKind.CabinItem && terms.OnlySoiled
            ? new Refusal("only-soiled", "What is only dirty or soiled is not deferred as a furnishing (FAA NEF guidance, GC-138). Have it cleaned.")
        : !basis.Covers(fixture.Kind, layout.Code)
            ? new Refusal("basis-does-not-fit", $"{basis.Code} does not cover a {fixture.Kind.Words()} on layout {layout.Code}. Choose an item whose effectivity does.")
        : !basis.Terms.LeakAllowed && defect.Leak == LeakAnswer.Leaking
            ? new Refusal("leak-not-allowed", $"{basis.Code} allows no leak, and this leaks ({defect.LeakWhere}). Shutting the supply does not stop a leak of what is already in a drain. Rectify it, or use an item that covers the leak.")
        : !basis.Terms.LeakAllowed && defect.Leak == LeakAnswer.DidNotLook
            ? new Refusal("leak-not-looked", $"{basis.Code} allows no leak, and nobody has looked. Look, and answer the leak question first.")
        : terms.Installed < 0 || terms.Required < 0 || terms.Required > terms.Installed
            ? new Refusal("numbers", "Number installed and number required are counts, and no more can be required than are installed.")
        : terms.PlacardFitted && basis.Terms.PlacardRequired && terms.PlacardWhere.Trim().Length == 0
            ? NoPlace
        : basis.ConditionsFor(fixture.Kind).Count is var conditions && terms.ConditionsDone.Any(index => index < 0 || index >= conditions)
            ? new Refusal("no-such-condition", $"{basis.Code} has {conditions} conditions; a tick named another.")
        : null;

    private Refusal? WhyNotExtend(int days, string reason, string approval, Instant now)
    {
        if (Basis.Category is not { } category || DueAt is not { } due)
        {
            return new Refusal("no-clock", "This basis has no interval, so there is nothing to extend.");
        }

        return now >= due
                ? new Refusal("lapsed", "This clock has lapsed. A lapsed deferral is not extended (ORO.MLR.105(e)(3)); the aircraft does not depart with it. The repair itself may go on.")
            : ExtensionRule.WhyNot(Policy, category, Interval, Extensions.Count, days, approval.Trim().Length > 0) is { } no
                ? no
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

    /// <summary>A policy that leaves a needed field to the operator counts nothing, and carries nothing.</summary>
    private static Refusal? WhyNotCounted(DeferralPolicy policy, Category category, DeferralBasis basis, Instant recordedAt, DateTimeZone zone)
    {
        var ask = new ClockQuestion(policy, category, recordedAt, zone, basis.Terms.IntervalDays) { Limits = basis.Terms.Limits };
        return DeferralClock.WhyNot(ask)
            ?? (DeferralClock.Read(ask).Unset is { Count: > 0 } unset
                ? new Refusal("set-by-operator", $"The policy \"{policy.Name}\" leaves to the operator: {string.Join(", ", unset)}. An administrator sets that in a policy of your own on Set-up; until then nothing is deferred under it.")
                : null);
    }

    private Refusal? WhyNotInTime(IReadOnlyList<ClockSector> sectors, Instant now) =>
        ReadClock(sectors) is { } clock && clock.HasLapsed(now)
            ? new Refusal("would-have-lapsed", "Counted from the original entry, this deferral would have lapsed already. The original date is kept (AMC M.A.403(d)). Rectify it.")
            : null;

    private Refusal? WhyNotSigned(Defect defect, Act act, Signature? before, IReadOnlyList<ClockSector> sectors, Instant now) =>
        WhyNotOpen(defect, act)
        ?? (before is null ? null : new Refusal("signed-before", $"{before.Name} has done this already. Withdraw the proposal if it must be done anew."))
        ?? WhyNotInTime(sectors, now);

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

    private Fact Begin(Defect defect, IReadOnlyList<ClockSector> sectors, Instant now, Fact step)
    {
        if (Missing().Count > 0)
        {
            return step;
        }

        BeganAt = now;
        Run(sectors);
        defect.Defer();
        return defect.Fact("deferral.began", $"{step.Words} Deferred under {BasisWords()}.")
            .With("basis", BasisCode).With("dueAt", DueAt).With("recordedAt", RecordedAt).With("certifiedKind", Certified?.Kind).With("reference", ControlReference).Including(step);
    }

    private void Run(IReadOnlyList<ClockSector> sectors)
    {
        var clock = ReadClock(sectors);
        (StartsAt, DueAt, Binding, TimeZoneData) = (clock?.StartsAt, clock?.DueAt, clock?.Binding, DateTimeZoneProviders.Tzdb.VersionId);
        ClockRevision++;
    }

    private string Say(Instant at) => at.InZone(DayZone()).ToString("ddd d MMM uuuu HH:mm x", System.Globalization.CultureInfo.InvariantCulture);
}
