using Drainboard.Data;
using Drainboard.Domain.Defects;
using Drainboard.Domain.Deferrals;
using Drainboard.Domain.Fleet;
using Drainboard.Domain.Recurrence;
using Drainboard.Domain.TurnFit;
using Drainboard.Domain.Turns;
using Drainboard.Web.Features.Deferrals;
using Drainboard.Web.Features.TurnFit;
using Drainboard.Web.Features.Items;
using Microsoft.EntityFrameworkCore;
using NodaTime;

namespace Drainboard.Web.Features.Fleet;

/// <summary>One active defect as the Board and the Tail page show it.</summary>
public sealed record ItemLine(Guid Id, int Number, string Position, string FixtureName, Symptom Symptom, LeakAnswer Leak, string LeakWhere, DefectState State, Instant SeenAt, Instant RecordedAt, RepeatFlag? Repeat, string? Log, CarriedLine? Carried, string? HeldBy = null, int Disturbed = 0, long Version = 0, FitView? Fit = null)
{
    public bool Leaking => Leak == LeakAnswer.Leaking;

    public string Sentence => (Leak, Symptom) switch
    {
        (LeakAnswer.Leaking, Symptom.Leaks) => $"Leaks: {LeakWhere}.",
        (LeakAnswer.Leaking, _) => $"{Symptom.Words()}. Leaking: {LeakWhere}.",
        (LeakAnswer.NoneSeen, _) => $"{Symptom.Words()}, no leak.",
        (LeakAnswer.DidNotLook, _) => $"{Symptom.Words()}; nobody has looked for a leak.",
    };
}

/// <summary>What carries it, if anything: proposed with what is missing, or running with its clock.</summary>
public sealed record CarriedLine(string Basis, Category? Category, bool Running, IReadOnlyList<string> Missing, ClockView? Clock)
{
    public static CarriedLine Of(Deferral deferral, Instant now) => new(deferral.BasisCode, deferral.Basis.Category, deferral.IsRunning, deferral.IsRunning ? [] : [.. deferral.Missing().Select(missing => missing.Words)], ClockView.Of(deferral, now));
}

/// <summary>Reads the active defects of some tails with what carries them, in four statements whatever the number of tails (two more where a card is begun or work awaits its release).</summary>
internal static class ItemLines
{
    /// <param name="fitting">The stays into which the items may fit; null where nobody asks.</param>
    public static async Task<ILookup<TailId, ItemLine>> ReadAsync(DrainboardDb db, IReadOnlyDictionary<TailId, CabinLayout> layouts, Fitting? fitting, Instant now, CancellationToken stop)
    {
        var tails = layouts.Keys.ToArray();
        var defects = await db.Defects.AsNoTracking().Where(defect => tails.Contains(defect.Tail) && defect.State != DefectState.Closed).ToArrayAsync(stop);
        var carried = defects.Where(defect => defect.Deferral is not null).Select(defect => defect.Deferral!.Value).ToArray();
        var deferrals = await db.Deferrals.AsNoTracking().Where(deferral => carried.Contains(deferral.Id)).ToDictionaryAsync(deferral => deferral.Defect, stop);
        var open = (await db.Disturbed.AsNoTracking().Where(thing => tails.Contains(thing.Tail) && thing.RestoredAt == null).Select(thing => thing.Defect).ToArrayAsync(stop)).CountBy(defect => defect).ToDictionary();
        var fits = fitting?.Stays.ToDictionary(stay => stay.Key, stay => new StayFit(fitting.Book, stay.Value, layouts[stay.Key].Code, now)) ?? [];
        var begun = fits.Count == 0 || defects.Length == 0 ? new Dictionary<DefectId, Progress>() : await WorkProgress.ReadAsync(db, [.. fits.Keys], [.. defects.Where(defect => defect.State == DefectState.WorkDone).Select(defect => defect.Id)], now, stop);
        return defects
            .OrderByDescending(defect => defect.Leak == LeakAnswer.Leaking).ThenBy(defect => Rank(defect.State)).ThenBy(defect => deferrals.GetValueOrDefault(defect.Id)?.DueAt ?? Instant.MaxValue).ThenBy(defect => defect.RecordedAt)
            .ToLookup(defect => defect.Tail, defect => Line(defect, ItemDoor.FixtureAt(layouts[defect.Tail], defect.Position), fits.GetValueOrDefault(defect.Tail), begun.GetValueOrDefault(defect.Id, Progress.None), deferrals.GetValueOrDefault(defect.Id), open.GetValueOrDefault(defect.Id), now));
    }

    private static ItemLine Line(Defect defect, Fixture fixture, StayFit? fit, Progress progress, Deferral? deferral, int disturbed, Instant now) => new(
        defect.Id.Value, defect.Number, defect.Position.Value, fixture.Name, defect.Symptom, defect.Leak, defect.LeakWhere, defect.State, defect.SeenAt, defect.RecordedAt, defect.Repeat, defect.Log?.ToString(), deferral is null ? null : CarriedLine.Of(deferral, now), defect.Holder?.Name, disturbed, defect.Version, fit?.Of(fixture, defect.Symptom, progress));

    private static int Rank(DefectState state) => state switch
    {
        DefectState.Reported => 0,
        DefectState.Open => 1,
        DefectState.WorkDone => 2,
        DefectState.Deferred => 3,
        DefectState.Closed => 4,
    };
}
