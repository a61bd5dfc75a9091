using Drainboard.Domain;
using Drainboard.Domain.Defects;
using Drainboard.Domain.Isolation;
using Drainboard.Domain.Rectification;
using Drainboard.Web.Features.Fleet;
using NodaTime;

namespace Drainboard.Web.Features.Isolation;

/// <summary>Where to look first at one fixture. One of <paramref name="Drain"/> and <paramref name="Vacuum"/> is set, or neither, with <paramref name="WhyNot"/>.</summary>
/// <param name="Item">What is open or deferred here and this is about, if anything.</param>
/// <param name="Known">What the advice goes by, in words: pours, write-ups, flushes.</param>
public sealed record AdviceView(
    string Tail, string Layout, string Position, string FixtureName, bool Leaking, OpenItem? Item, string? WhyNot, DrainAdviceView? Drain, VacuumAdviceView? Vacuum, IReadOnlyList<KnownLine> Known, IReadOnlyList<NamedPlace> Neighbours, double DeferMinutes, double PourMinutes, IReadOnlyList<Explained> Explanation, TurnView? Turn, string Zone);

/// <param name="AnythingSlow">Whether anything on this drain is known to be slow; if not, there is nothing to open.</param>
/// <param name="Way">What the fixture itself drains through.</param>
/// <param name="AloftOnly">As it was taken, whoever said so.</param>
/// <param name="LastFix">The last fix on this way, if it is recent enough not to have held.</param>
public sealed record DrainAdviceView(IReadOnlyList<SegmentView> Segments, IReadOnlyList<PourAdviceView> Pours, PourAdviceView? Worthwhile, IReadOnlyList<string> Order, int StopAfter, double ExpectedMinutes, IReadOnlyList<StateView> TopStates, double EvidenceProbability, bool AnythingSlow, IReadOnlyList<string> Way, bool AloftOnly, string? DidNotHold, LastFix? LastFix);

/// <param name="Alone">Probability that it and nothing else is blocked.</param>
public sealed record SegmentView(string Position, string Name, string Kind, double Prior, double Blocked, double Alone, double Minutes, string MinutesFrom, string Access, int FoundHere, int WriteUps, int? DaysSinceOpened, string Caution);

public sealed record PourAdviceView(string Position, string Name, double SlowProbability, double Bits, double BitsPerMinute, double? SavedMinutes);

public sealed record StateView(IReadOnlyList<string> Blocked, double Probability);

public sealed record VacuumAdviceView(string Tank, IReadOnlyList<SuspectView> Suspects, IReadOnlyList<string> Order, int StopAfter, double ExpectedMinutes);

public sealed record SuspectView(string Id, VacuumFault Fault, string Words, string Position, string Name, double Probability, double Minutes, string Caution);

/// <param name="Carried">A deferral is proposed or runs.</param>
public sealed record OpenItem(Guid Id, DefectState State, bool Carried);

/// <param name="How">Slow or fine; for a toilet, does not flush or flushes.</param>
public sealed record KnownLine(string Position, string Name, PourResult How, string Words);

public sealed record NamedPlace(string Position, string Name);

public sealed record LastFix(string Position, string Name, Found Found, Instant At);
