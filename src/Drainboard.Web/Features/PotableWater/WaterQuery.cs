using Drainboard.Data;
using Drainboard.Domain.Fleet;
using Drainboard.Domain.PotableWater;
using Drainboard.Domain.Turns;
using Drainboard.Web.Features.Fleet;
using Drainboard.Web.Features.Items;
using Microsoft.EntityFrameworkCore;
using NodaTime;

namespace Drainboard.Web.Features.PotableWater;

public sealed class WaterQuery(IDbContextFactory<DrainboardDb> factory, LayoutCatalog layouts, IClock clock)
{
    private const int Shown = 20;

    public async Task<WaterView?> ReadAsync(Registration mark, CancellationToken stop)
    {
        await using var db = await factory.CreateDbContextAsync(stop);
        if (await db.Tails.AsNoTracking().SingleOrDefaultAsync(tail => tail.Registration == mark, stop) is not { } tail)
        {
            return null;
        }

        var (now, layout) = (clock.GetCurrentInstant(), await layouts.GetAsync(tail.Layout, stop));
        var programme = await WaterTail.NewestAsync(db, tail.WaterProgramme, stop);
        var deeds = await db.WaterDeeds.AsNoTracking().Where(deed => deed.Tail == tail.Id).OrderByDescending(deed => deed.At).ToArrayAsync(stop);
        var sets = await db.SampleSets.AsNoTracking().Where(set => set.Tail == tail.Id).OrderByDescending(set => set.CollectedAt).ToArrayAsync(stop);
        var cases = await db.WaterCases.AsNoTracking().Where(one => one.Tail == tail.Id).OrderBy(one => one.EndedAt != null).ThenByDescending(one => one.ToldAt).Take(Shown).ToArrayAsync(stop);
        var done = deeds.Where(deed => deed.VoidedAt is null).ToArray();
        var zone = await ZoneAsync(db, tail, now, stop);
        var lately = sets.Where(set => set.Counts).SelectMany(set => set.Samples.Select(sample => (sample.Tap, At: set.CollectedAt.ToUnixTimeTicks()))).GroupBy(one => one.Tap).ToDictionary(tap => tap.Key, tap => tap.Max(one => one.At));
        var counted = programme?.Terms.Items.Where(item => item.EveryHours is not null).Select(item => done.FirstOrDefault(deed => deed.Item == item.Key)?.At).Min();
        var hours = counted is { } since
            ? new FlightHours(await db.Sectors.AsNoTracking().Where(sector => sector.Tail == tail.Id && sector.Flown && sector.OnBlock > since && sector.OffBlock <= now).ToArrayAsync(stop))
            : new FlightHours([]);
        return new WaterView(mark.Value, zone.Id, now, programme is null ? null : WaterProgrammeView.Of(programme),
            cases.Any(one => one.RestrictsAt(now)) ? WaterView.NotServed : null,
            [.. cases.Select(one => View(one, layout, done, sets, lately, now))],
            programme is null ? [] : WaterDues.Of(programme.Terms, done, sets.FirstOrDefault(set => set is { Purpose: SamplePurpose.Routine, Counts: true })?.CollectedAt, hours.Since, zone, now),
            [.. SampleTaps.Choose(layout, SamplePurpose.Routine, lately, []).Select(tap => tap.Value)],
            [.. sets.Take(Shown).Select(set => View(set, layout))],
            [.. deeds.Take(Shown).Select(deed => new WaterDeedView(deed.Id.Value, deed.Kind, deed.Item.Length > 0 ? programme?.Terms.Items.FirstOrDefault(item => item.Key == deed.Item)?.Name ?? deed.Item : deed.Kind.Words(), deed.At, deed.Words, deed.ByName, deed.VoidedAt is null ? null : deed.VoidedWhy))]);
    }

    private static WaterCaseView View(WaterCase one, CabinLayout layout, WaterDeed[] deeds, SampleSet[] sets, IReadOnlyDictionary<Position, long> lately, Instant now)
    {
        // Of a case that has ended, what was done until then.
        var until = one.EndedAt ?? now;
        var disinfected = deeds.Where(deed => deed.Kind == WaterDeedKind.DisinfectedAndFlushed && deed.At >= one.ToldAt && deed.At <= until).MaxBy(deed => deed.At);
        var own = sets.Where(set => set.Case == one.Id && set.Counts && set.CollectedAt <= until).ToArray();
        var followUp = own.Where(set => set.Purpose == SamplePurpose.FollowUp && (disinfected is null || set.CollectedAt >= disinfected.At)).MaxBy(set => set.CollectedAt);
        var repeats = own.Where(set => set.Purpose == SamplePurpose.Repeat).MaxBy(set => set.CollectedAt);
        var positive = one.From is { } from ? sets.First(set => set.Id == from).Positive : [];
        SamplePurpose? wanted = !one.IsRunning || (one.HasWays && one.Way.Length == 0) ? null
            : one.Way == "iii" ? repeats is null ? SamplePurpose.Repeat : null
            : disinfected is not null && followUp is null ? SamplePurpose.FollowUp : null;
        return new WaterCaseView(one.Id.Value, one.Version, one.Kind, one.Kind.Words(), one.ToldAt, one.Words, one.HasWays, one.Way, one.RestrictsAt(now), one.WasMissedAt(now), one.CanShutOff, one.From?.Value,
            [.. one.Actions.Select(action => Action(action, one, disinfected, followUp, repeats))],
            one.IsRunning ? one.WhyNotLift(disinfected?.At, followUp)?.Words : null,
            wanted, wanted is { } purpose ? [.. SampleTaps.Choose(layout, purpose, lately, positive).Select(tap => tap.Value)] : [], one.OpenedBy, one.EndedAt, one.EndedWhy);
    }

    private static WaterActionView Action(WaterAction action, WaterCase one, WaterDeed? disinfected, SampleSet? followUp, SampleSet? repeats)
    {
        var step = one.Done.FirstOrDefault(step => step.Act == action.Act);
        var (at, by) = action.Act switch
        {
            WaterAct.DisinfectAndFlush => (disinfected?.At, disinfected?.ByName),
            WaterAct.FollowUpSamples => (followUp?.CollectedAt, followUp?.ByName),
            WaterAct.RepeatSamples => (repeats?.CollectedAt, repeats?.ByName),
            _ => (step?.At, step?.ByName),
        };
        return new WaterActionView(action.Act, action.Act.Words(), action.DueAt, action.Way, action.Before, $"40 CFR {action.Source}", at, by, action.Act is not (WaterAct.DisinfectAndFlush or WaterAct.FollowUpSamples or WaterAct.RepeatSamples));
    }

    private static SampleSetView View(SampleSet set, CabinLayout layout) => new(
        set.Id.Value, set.Version, set.Purpose, set.Case?.Value, set.CollectedAt, set.CollectedAt + WaterRule.LongestToAnalysis, set.ByName,
        [.. set.Samples.Select(sample => new SampleView(sample.Tap.Value, layout.Find(sample.Tap)?.Name ?? sample.Tap.Value, sample.AnalysisStartedAt, sample.Coliform, sample.EColi))], set.IsNegative, set.VoidedAt is null ? null : set.VoidedWhy);

    // Times are of the station that has the aircraft, or gets it next.
    private static async Task<DateTimeZone> ZoneAsync(DrainboardDb db, Tail tail, Instant now, CancellationToken stop)
    {
        var here = Whereabouts.CurrentOrNext([.. await ItemDoor.TurnsAroundAsync(db, tail.Id, now, stop)], now)?.Station;
        return here is { } code && await db.Stations.AsNoTracking().Where(station => station.Code == code).Select(station => station.Zone).SingleOrDefaultAsync(stop) is { } zone ? DateTimeZoneProviders.Tzdb[zone] : DateTimeZone.Utc;
    }
}
