using Drainboard.Data;
using Drainboard.Domain;
using Drainboard.Domain.Accounts;
using Drainboard.Domain.Fleet;
using Drainboard.Domain.PotableWater;
using Drainboard.Domain.Turns;
using Drainboard.Web.Features.Door;
using Drainboard.Web.Features.Fleet;
using Drainboard.Web.Features.Items;
using Microsoft.EntityFrameworkCore;
using NodaTime;

namespace Drainboard.Web.Features.PotableWater;

/// <summary>A tail whose drinking water somebody does something for, with what that rests on.</summary>
internal sealed record WaterTail(Tail Tail, CabinLayout Layout, WaterProgramme? Programme)
{
    private static readonly Refusal NoProgramme = new("no-programme", "This aircraft has no drinking water programme yet. Choose one on its Water page first.");

    /// <summary>The terms, or why there are none.</summary>
    public Refusal? WhyNotKept => Programme is null ? NoProgramme : null;

    /// <summary>Finds it and asks whether this person may do this to it, where it is.</summary>
    public static async Task<(WaterTail? Found, Answer? Trouble)> FindAsync(Attempt attempt, LayoutCatalog layouts, string registration, Act act) =>
        Registration.TryParse(registration, out var mark) && await attempt.Db.Tails.SingleOrDefaultAsync(tail => tail.Registration == mark, attempt.Stop) is { } tail
            ? await OfAsync(attempt, layouts, tail, act)
            : (null, new Answer.NotFound($"There is no tail \"{registration}\"."));

    public static Task<WaterProgramme?> NewestAsync(DrainboardDb db, string code, CancellationToken stop) =>
        db.WaterProgrammes.AsNoTracking().Where(row => row.Code == code).OrderByDescending(row => row.Number).FirstOrDefaultAsync(stop);

    /// <summary>The last disinfection and flushing at or before an instant.</summary>
    public static Task<Instant?> DisinfectedAsync(DrainboardDb db, TailId tail, Instant before, CancellationToken stop) =>
        db.WaterDeeds.Where(deed => deed.Tail == tail && deed.Kind == WaterDeedKind.DisinfectedAndFlushed && deed.VoidedAt == null && deed.At <= before).MaxAsync(deed => (Instant?)deed.At, stop);

    /// <summary>The newest follow-up set of a case that counts.</summary>
    public static async Task<SampleSet?> FollowUpAsync(DrainboardDb db, WaterCase of, CancellationToken stop) =>
        await db.SampleSets.AsNoTracking().Where(set => set.Case == of.Id && set.Purpose == SamplePurpose.FollowUp && set.VoidedAt == null).OrderByDescending(set => set.CollectedAt).FirstOrDefaultAsync(stop);

    private static async Task<(WaterTail? Found, Answer? Trouble)> OfAsync(Attempt attempt, LayoutCatalog layouts, Tail tail, Act act)
    {
        var turns = await ItemDoor.TurnsAroundAsync(attempt.Db, tail.Id, attempt.Now, attempt.Stop);
        if (Permissions.WhyNot(attempt.Actor, act, tail.Registration, Whereabouts.ReachableAt([.. turns], attempt.Now)) is { } no)
        {
            return (null, new Answer.NotAllowed(no));
        }

        // Two people at one tail's water take turns: a lift and a positive result must not miss each other.
        attempt.Touch(tail);
        return (new WaterTail(tail, await layouts.GetAsync(tail.Layout, attempt.Stop), await NewestAsync(attempt.Db, tail.WaterProgramme, attempt.Stop)), null);
    }
}
