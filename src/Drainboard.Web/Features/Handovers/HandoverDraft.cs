using Drainboard.Data;
using Drainboard.Domain.Cards;
using Drainboard.Domain.Defects;
using Drainboard.Domain.Deferrals;
using Drainboard.Domain.Fleet;
using Drainboard.Domain.Handovers;
using Drainboard.Domain.Rectification;
using Drainboard.Web.Features.Board;
using Drainboard.Web.Features.Cards;
using Drainboard.Web.Features.Fleet;
using Drainboard.Web.Features.Items;
using Drainboard.Web.Features.Records;
using Drainboard.Web.Shell;
using Microsoft.EntityFrameworkCore;
using NodaTime;

namespace Drainboard.Web.Features.Handovers;

/// <summary>Writes a station's handover from what stands: nothing in it is typed, so nothing is forgotten. Only the notes are free.</summary>
internal sealed class HandoverDraft(DrainboardDb db, LayoutCatalog layouts, Station station, Instant now)
{
    /// <summary>How far a shift looks where no handover says when it began, and how far the next one does.</summary>
    private static readonly Duration Shift = Duration.FromHours(12);

    private readonly Dictionary<TailId, (Tail Tail, CabinLayout Layout)> _tails = [];

    public async Task<(Instant From, HandoverContent Content)> WriteAsync(CancellationToken stop)
    {
        var last = await db.Handovers.AsNoTracking().Where(handover => handover.Station == station.Code).OrderByDescending(handover => handover.SignedAt).Select(handover => (Instant?)handover.SignedAt).FirstOrDefaultAsync(stop);
        var from = last is { } signed && signed > now - Shift - Shift ? signed : now - Shift;
        var here = (await StationStays.ReadAsync(db, station.Code, now, stop)).Select(turn => turn.Tail).ToHashSet();
        var were = await db.Turns.AsNoTracking().Where(turn => turn.Station == station.Code && turn.EstimatedArrival < now && turn.EstimatedDeparture > from).Select(turn => turn.Tail).Distinct().ToArrayAsync(stop);
        var all = here.Union(were).ToArray();
        foreach (var tail in await db.Tails.AsNoTracking().Where(tail => all.Contains(tail.Id)).ToArrayAsync(stop))
        {
            _tails[tail.Id] = (tail, await layouts.GetAsync(tail.Layout, stop));
        }

        var ids = here.ToArray();
        var open = await db.Defects.AsNoTracking().Where(defect => ids.Contains(defect.Tail) && defect.State != DefectState.Closed).ToArrayAsync(stop);
        var closed = await db.Defects.AsNoTracking().Where(defect => all.Contains(defect.Tail) && defect.ClosedAt >= from).ToArrayAsync(stop);
        var about = open.Concat(closed).Select(defect => defect.Id).ToArray();
        var things = await db.Disturbed.AsNoTracking().Where(thing => ids.Contains(thing.Tail) && thing.RestoredAt == null).ToArrayAsync(stop);
        var parts = await db.Parts.AsNoTracking().Where(part => ids.Contains(part.Tail) && part.State != PartState.Gone).ToArrayAsync(stop);
        var works = await db.Work.AsNoTracking().Where(work => about.Contains(work.Defect) && work.ReturnReason == "").ToArrayAsync(stop);
        var jobs = await db.Jobs.AsNoTracking().Where(job => about.Contains(job.Defect) && job.EndedAt == null).ToArrayAsync(stop);
        var carried = open.Select(defect => defect.Deferral).OfType<DeferralId>().ToArray();
        var deferrals = await db.Deferrals.AsNoTracking().Where(deferral => carried.Contains(deferral.Id)).ToArrayAsync(stop);
        var clocks = await PartClocks.ReadAsync(db, parts, now, stop);
        var numbers = open.Concat(closed).ToDictionary(defect => defect.Id);
        return (from, new HandoverContent(
            Sorted(closed.Select(defect => Line(defect, DoneWords(defect, works.Where(work => work.Defect == defect.Id).MaxBy(work => work.RecordedAt))))),
            Sorted(open.Where(defect => defect.State != DefectState.Deferred).Select(defect => Line(defect, OpenWords(defect, deferrals.FirstOrDefault(deferral => deferral.Id == defect.Deferral), jobs.FirstOrDefault(job => job.Defect == defect.Id), parts.Where(part => part.Defect == defect.Id))))),
            Sorted(open.Select(defect => (Defect: defect, Deferral: deferrals.FirstOrDefault(deferral => deferral.Id == defect.Deferral && deferral.IsRunning)!)).Where(one => one.Deferral?.DueAt < now + Shift).Select(one => Line(one.Defect, $"{one.Deferral.BasisWords()}: {(one.Deferral.DueAt <= now ? "LAPSED" : "lapses")} {Times.Full(one.Deferral.DueAt!.Value, station.Zone)}."))),
            Sorted(parts.Where(part => part.State == PartState.Awaited || part.IsOnLimit).Select(part => Line(part.Tail, part.Defect, part.Name, PartWords(part, clocks.GetValueOrDefault(part.Id))))),
            Sorted(things.Select(thing => Line(thing.Tail, thing.Defect, thing.Title, $"{(numbers.TryGetValue(thing.Defect, out var defect) ? $"{FixtureOf(defect)}. " : "")}{(thing.LeftWords.Length > 0 ? $"Left for a deferral: {thing.LeftWords}" : "Not restored, and not said to be left so.")} {thing.ByName}, {Times.Full(thing.At, station.Zone)}."))),
            Sorted(open.Where(defect => defect.Leak == LeakAnswer.Leaking).Select(defect => Line(defect, $"LEAKS, {defect.LeakWhere}. Water near electrics: find where it comes from first.")).Concat(parts.Where(part => clocks.GetValueOrDefault(part.Id)?.HasLapsed(now) == true).Select(part => Line(part.Tail, part.Defect, part.Name, "No release certificate, and its time has lapsed: the aircraft does not depart with it."))).Concat(things.Where(thing => thing.Kind is DisturbedKind.Breaker or DisturbedKind.Valve or DisturbedKind.Tag).Select(thing => Line(thing.Tail, thing.Defect, thing.Title, "Do not restore it before you know why it is so."))))));
    }

    private static HandoverLine[] Sorted(IEnumerable<HandoverLine> lines) => [.. lines.OrderBy(line => line.Tail, StringComparer.Ordinal).ThenBy(line => line.What, StringComparer.Ordinal).ThenBy(line => line.Words, StringComparer.Ordinal)];

    private static string OpenWords(Defect defect, Deferral? proposed, Job? job, IEnumerable<Part> parts) => Sentences.Join(new[]
    {
        $"{defect.Symptom.Words()}: {defect.State.Words()}",
        defect.Holder is { } holder ? $"{holder.Name} has it" : defect.State == DefectState.Open ? "Nobody has it" : null,
        job is null ? null : $"Work card begun by {job.StartedByName}, not finished",
        defect.State == DefectState.WorkDone ? "Waits for a certifying signature" : null,
        proposed is not { BeganAt: null } ? null : $"Deferral proposed, missing: {string.Join("; ", proposed.Missing().Select(missing => missing.Words))}",
        parts.Where(part => part.State == PartState.Awaited).Select(part => part.Name).ToArray() is { Length: > 0 } awaited ? $"Waits for {string.Join(", ", awaited)}" : null,
    }.OfType<string>());

    private static string DoneWords(Defect defect, WorkDone? work) => Sentences.Join(new[]
    {
        $"{defect.Symptom.Words()}: {defect.Closure!.Value.Words()}",
        work is null ? null : $"{work.Found.Words()} at {work.FoundAt}",
        work is { OpenTasks.Length: > 0 } ? $"Open tasks: {work.OpenTasks}" : null,
    }.OfType<string>());

    private string PartWords(Part part, PartClock? clock) => part.State == PartState.Awaited
        ? $"Awaited since {Times.Utc(part.At)}{(part.PartNumber.Length > 0 ? $", P/N {part.PartNumber}" : "")}."
        : FormattableString.Invariant($"Fitted without a release certificate: {clock?.HoursUsed ?? 0:0.0} of {Part.HoursWithoutCertificate} flight hours used{(clock?.DueAt is not { } due ? "" : due <= now ? $"; LAPSED {Times.Utc(due)} with {clock.LimitWords}" : $", off or certified by {Times.Utc(due)}")}.");

    private HandoverLine Line(Defect defect, string words) => Line(defect.Tail, defect.Id, FixtureOf(defect), words);

    private HandoverLine Line(TailId tail, DefectId defect, string what, string words) => new(_tails[tail].Tail.Registration.Value, defect.Value, what, words);

    private string FixtureOf(Defect defect) => ItemDoor.FixtureAt(_tails[defect.Tail].Layout, defect.Position).Name;
}
