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

/// <summary>Reads the active defects of some tails with what carries them, in one statement whatever the number of tails (and those of <see cref="WorkProgress"/> where somebody asks what fits).</summary>
internal static class ItemLines
{
    /// <param name="fitting">The stays into which the items may fit; null where nobody asks.</param>
    public static async Task<ILookup<TailId, ItemLine>> ReadAsync(DrainboardDb db, IReadOnlyDictionary<TailId, CabinLayout> layouts, Fitting? fitting, Instant now, CancellationToken stop)
    {
        var tails = layouts.Keys.ToArray();
        var rows = await (from defect in db.Defects.AsNoTracking()
                          where tails.Contains(defect.Tail) && defect.State != DefectState.Closed
                          join one in db.Deferrals on defect.Deferral equals (DeferralId?)one.Id into carried
                          from deferral in carried.DefaultIfEmpty()
                          select new { Defect = defect, Deferral = (Deferral?)deferral, Disturbed = db.Disturbed.Count(thing => thing.Defect == defect.Id && thing.RestoredAt == null) }).ToArrayAsync(stop);
        var fits = fitting?.Stays.ToDictionary(stay => stay.Key, stay => new StayFit(fitting.Book, stay.Value, layouts[stay.Key].Code, now)) ?? [];
        var begun = fits.Count == 0 || rows.Length == 0 ? new Dictionary<DefectId, Progress>() : await WorkProgress.ReadAsync(db, [.. fits.Keys], [.. rows.Where(row => row.Defect.State == DefectState.WorkDone).Select(row => row.Defect.Id)], now, stop);
        return rows
            .OrderByDescending(row => row.Defect.Leak == LeakAnswer.Leaking).ThenBy(row => Rank(row.Defect.State)).ThenBy(row => row.Deferral?.DueAt ?? Instant.MaxValue).ThenBy(row => row.Defect.RecordedAt).ThenBy(row => row.Defect.Number)
            .ToLookup(row => row.Defect.Tail, row => Line(row.Defect, ItemDoor.FixtureAt(layouts[row.Defect.Tail], row.Defect.Position), fits.GetValueOrDefault(row.Defect.Tail), begun.GetValueOrDefault(row.Defect.Id, Progress.None), row.Deferral, row.Disturbed, now));
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
