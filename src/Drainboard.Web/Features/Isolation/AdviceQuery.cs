using Drainboard.Data;
using Drainboard.Domain.Defects;
using Drainboard.Domain.Fleet;
using Drainboard.Domain.Isolation;
using Drainboard.Domain.Pours;
using Drainboard.Domain.Rectification;
using Drainboard.Domain.Turns;
using Drainboard.Web.Features.Fleet;
using Drainboard.Web.Features.Items;
using Drainboard.Web.Features.Pours;
using Microsoft.EntityFrameworkCore;
using NodaTime;

namespace Drainboard.Web.Features.Isolation;

/// <summary>Gathers what is known about a fixture's drain, or a toilet's tank, and lets the rules advise.</summary>
public sealed class AdviceQuery(IDbContextFactory<DrainboardDb> factory, LayoutCatalog layouts, IClock clock)
{
    /// <summary>A fix that is older held (our choice; the repeat rules use the same window).</summary>
    private static readonly Duration Held = Duration.FromDays(15);

    public async Task<AdviceView?> ReadAsync(Registration mark, Position position, AdviceAsk ask, CancellationToken stop)
    {
        await using var db = await factory.CreateDbContextAsync(stop);
        var tail = await db.Tails.AsNoTracking().SingleOrDefaultAsync(tail => tail.Registration == mark, stop);
        var layout = tail is null ? null : await layouts.GetAsync(tail.Layout, stop);
        if (tail is null || layout!.Find(position) is not { } fixture)
        {
            return null;
        }

        var now = clock.GetCurrentInstant();
        var turn = Whereabouts.CurrentOrNext(await ItemDoor.TurnsAroundAsync(db, tail.Id, now, stop), now);
        var zone = turn is null ? null : await db.Stations.Where(station => station.Code == turn.Station).Select(station => station.Zone).SingleOrDefaultAsync(stop);
        var terms = await db.Installations.Select(installation => installation.Advice).SingleAsync(stop);
        var active = await db.Defects.AsNoTracking().Where(defect => defect.Tail == tail.Id && defect.State != DefectState.Closed && defect.State != DefectState.WorkDone).OrderByDescending(defect => defect.SeenAt).ToArrayAsync(stop);
        var view = new AdviceView(
            mark.Value, layout.Code, position.Value, fixture.Name, Leaks.On(layout, position, active).Count > 0,
            active.Where(defect => defect.Position == position && defect.Symptom.Family() is SymptomFamily.Draining or SymptomFamily.Flushing or SymptomFamily.Leaking).Select(defect => new OpenItem(defect.Id.Value, defect.State, defect.Deferral is not null)).FirstOrDefault(), null, null, null, [], [], terms.DeferMinutes, terms.PourMinutes, [], turn is null ? null : TurnView.Of(turn, now), zone ?? "Etc/UTC");
        return fixture.Kind == FixtureKind.Toilet
            ? Vacuum(view, layout, position, active, ask, terms)
            : await DrainAsync(db, view, tail, layout, position, active, ask, terms, now, stop);
    }

    private static async Task<AdviceView> DrainAsync(DrainboardDb db, AdviceView view, Tail tail, CabinLayout layout, Position position, Defect[] active, AdviceAsk ask, AdviceTerms terms, Instant now, CancellationToken stop)
    {
        if (PourQuestions.WhyNotAt(layout, position) is { } no)
        {
            return view with { WhyNot = no.Words };
        }

        var neighbours = layout.Plumbing.SharesDrainWith(position).Where(CabinDrains.IsOutlet).ToArray();
        if (ask.BacksUpInto is { Length: > 0 } into && !(Position.TryParse(into, out var up) && neighbours.Any(one => one.Position == up)))
        {
            return view with { WhyNot = $"{into} does not share this drain, so its water cannot come from here. Choose one that does, or have the layout mended on Set-up.", Neighbours = Named(neighbours) };
        }

        var pours = await RecentPours.ReadAsync(db, tail.Id, layout, now, stop);
        var known = Known(layout, active, pours);
        var last = await LastFixAsync(db, tail.Id, layout, position, now, stop);
        var circumstances = new Circumstances(
            ask.AloftOnly ?? await IsAloftOnlyAsync(db, active, pours, position, stop), ask.Outside, ask.BacksUpInto is { Length: > 0 } other ? Position.Parse(other) : null,
            ask.DidNotHold switch { AdviceAsk.None => null, { Length: > 0 } at when Position.TryParse(at, out var opened) => opened, _ => last is not null && (IsBack(active, position, last.At) || pours.GetValueOrDefault(position) is { Result: PourResult.Slow } slow && slow.PouredAt > last.At) && !await HeldAsync(db, tail.Id, position, last.At, stop) ? Position.Parse(last.Position) : null });
        var findings = await FleetFindings.ReadAsync(db, tail, layout, now, stop);
        var advice = DrainAdvice.Work(layout, position, known.ToDictionary(one => Position.Parse(one.Position), one => one.How), circumstances, findings.Of, terms);
        if (advice is null)
        {
            return view with { Known = known, Neighbours = Named(neighbours), WhyNot = "These results contradict each other: no state of this drain could have given them together. Pour again where you are least sure, or have an administrator allow for some doubt (Set-up, Advice)." };
        }

        string NameOf(string at) => layout.Find(Position.Parse(at))?.Name ?? at;
        PourAdviceView PourOf(PourGain gain) => new(gain.Outlet, NameOf(gain.Outlet), gain.SlowProbability, gain.Bits, gain.Bits / terms.PourMinutes, advice.Worthwhile?.Outlet == gain.Outlet ? advice.Worthwhile.SavedMinutes : null);
        // Nothing is poured onto a leak.
        var next = view.Leaking ? [] : advice.Pours.Where(pour => Leaks.On(layout, Position.Parse(pour.Outlet), active).Count == 0).Select(PourOf).ToArray();
        return view with
        {
            Known = known,
            Neighbours = Named(neighbours),
            Explanation = advice.Explanation,
            Drain = new DrainAdviceView(
                [.. advice.Segments.Select(View)], next, next.FirstOrDefault(pour => pour.SavedMinutes is not null), advice.Plan.Order, advice.Plan.StopAfter, advice.Plan.ExpectedMinutes,
                [.. advice.TopStates.Select(state => new StateView([.. state.Blocked.Select(NameOf)], state.Probability))], advice.EvidenceProbability, advice.IsAnythingSlow, [.. CabinDrains.PathOf(layout, position).Select(node => node.Position.Value)], circumstances.AloftOnly, circumstances.DidNotHoldAt?.Value, last),
        };
    }

    private static AdviceView Vacuum(AdviceView view, CabinLayout layout, Position position, Defect[] active, AdviceAsk ask, AdviceTerms terms)
    {
        var tank = layout.Plumbing.DrainPath(position)[^1].Position;
        var toilets = layout.Fixtures.Where(fixture => fixture.Kind == FixtureKind.Toilet && layout.Plumbing.DrainPath(fixture.Position)[^1].Position == tank).ToArray();
        var tried = ask.Tried.Where(one => toilets.Any(toilet => toilet.Position == one.At)).DistinctBy(one => one.At).ToDictionary(one => one.At, one => one.Result);
        var known = tried.Select(one => new KnownLine(one.Key.Value, layout.Find(one.Key)!.Name, one.Value, one.Value == PourResult.Ok ? "flushes" : "does not flush")).ToList();
        foreach (var defect in active.Where(defect => defect.Symptom.Family() == SymptomFamily.Flushing && !tried.ContainsKey(defect.Position) && toilets.Any(toilet => toilet.Position == defect.Position)).DistinctBy(defect => defect.Position))
        {
            tried[defect.Position] = PourResult.Slow;
            known.Add(new KnownLine(defect.Position.Value, layout.Find(defect.Position)!.Name, PourResult.Slow, $"written up, {defect.Symptom.Words().ToLowerInvariant()}"));
        }

        var others = Named([.. toilets.OrderBy(toilet => toilet.Along).ThenBy(toilet => toilet.Across)]);
        if (VacuumAdvice.Work(layout, position, tried, ask.Signs, terms) is not { } advice)
        {
            return view with { Neighbours = others, WhyNot = $"The layout does not say which waste tank {view.FixtureName} empties into. An administrator draws it on Set-up." };
        }

        return view with
        {
            Known = known,
            Neighbours = others,
            Explanation = advice.Explanation,
            Vacuum = new VacuumAdviceView(advice.Tank.Name, [.. advice.Suspects.Select(suspect => new SuspectView(suspect.Id, suspect.Fault, suspect.Fault.Words(), suspect.At.Position.Value, suspect.At.Name, suspect.Probability, suspect.Minutes, suspect.Fault.Caution()))], advice.Plan.Order, advice.Plan.StopAfter, advice.Plan.ExpectedMinutes),
        };
    }

    /// <summary>A pour counts before a write-up of the same fixture unless the write-up is newer.</summary>
    private static KnownLine[] Known(CabinLayout layout, Defect[] active, Dictionary<Position, Pour> pours)
    {
        var written = active.Where(defect => defect.Symptom.Family() == SymptomFamily.Draining && layout.Find(defect.Position) is { } fixture && CabinDrains.IsOutlet(fixture)).DistinctBy(defect => defect.Position).ToDictionary(defect => defect.Position);
        return
        [
            .. pours.Values.Where(pour => written.GetValueOrDefault(pour.Position) is not { } defect || defect.SeenAt <= pour.PouredAt).Select(pour => new KnownLine(pour.Position.Value, layout.Find(pour.Position)?.Name ?? pour.Position.Value, pour.Result, $"poured: {pour.ResultWords}")),
            .. written.Values.Where(defect => pours.GetValueOrDefault(defect.Position) is not { } pour || pour.PouredAt < defect.SeenAt).Select(defect => new KnownLine(defect.Position.Value, layout.Find(defect.Position)!.Name, PourResult.Slow, $"written up, {defect.Symptom.Words().ToLowerInvariant()}")),
        ];
    }

    /// <summary>Reported in flight, and a pour on the ground since ran free.</summary>
    private static async Task<bool> IsAloftOnlyAsync(DrainboardDb db, Defect[] active, Dictionary<Position, Pour> pours, Position position, CancellationToken stop)
    {
        var here = active.Where(defect => defect.Position == position && defect.Symptom.Family() == SymptomFamily.Draining).Select(defect => defect.Id).ToArray();
        return here.Length > 0 && pours.GetValueOrDefault(position) is { Result: PourResult.Ok, PouredAt: var poured } && await db.Reports.AnyAsync(report => here.Contains(report.Defect) && report.Phase == FlightPhase.InFlight && report.SeenAt <= poured, stop);
    }

    private static async Task<LastFix?> LastFixAsync(DrainboardDb db, TailId tail, CabinLayout layout, Position position, Instant now, CancellationToken stop)
    {
        var (way, since) = (CabinDrains.PathOf(layout, position).Select(node => node.Position).ToArray(), now - Held);
        var work = await db.Work.AsNoTracking().Where(work => work.Tail == tail && work.Position == position && work.ReturnReason == "" && work.Found != Found.Nothing && way.Contains(work.FoundAt) && work.CompletedAt >= since)
            .Where(work => db.Defects.Any(defect => defect.Id == work.Defect && FleetFindings.Draining.Contains(defect.Symptom))).OrderByDescending(work => work.CompletedAt).FirstOrDefaultAsync(stop);
        return work is null ? null : new LastFix(work.FoundAt.Value, layout.Find(work.FoundAt)!.Name, work.Found, work.CompletedAt);
    }

    /// <summary>A pour more than a day after the fix ran free: it held, and what is slow now is new.</summary>
    private static async Task<bool> HeldAsync(DrainboardDb db, TailId tail, Position position, Instant fixedAt, CancellationToken stop)
    {
        var since = fixedAt + Duration.FromDays(1);
        return (await db.Pours.AsNoTracking().Where(pour => pour.Tail == tail && pour.Position == position && pour.PouredAt > since && pour.WithdrawnAt == null).ToArrayAsync(stop)).Any(pour => pour.Result == PourResult.Ok);
    }

    /// <summary>A slow drain here, seen after the fix.</summary>
    private static bool IsBack(Defect[] active, Position position, Instant after) => active.Any(defect => defect.Position == position && defect.Symptom.Family() == SymptomFamily.Draining && defect.SeenAt > after);

    private static SegmentView View(SegmentAdvice segment) => new(
        segment.Fixture.Position.Value, segment.Fixture.Name, segment.Fixture.Kind.Words(), segment.Prior, segment.Blocked, segment.Alone, segment.Minutes, segment.MinutesFrom, segment.Fixture.Access,
        segment.History.FoundHere, segment.History.WriteUps, (int?)segment.History.DaysSinceOpened, segment.Fixture.Kind.Caution());

    private static NamedPlace[] Named(IReadOnlyList<Fixture> fixtures) => [.. fixtures.Select(fixture => new NamedPlace(fixture.Position.Value, fixture.Name))];
}
