using Drainboard.Data;
using Drainboard.Data.Accounts;
using Drainboard.Domain;
using Drainboard.Domain.Accounts;
using Drainboard.Domain.Fleet;
using Drainboard.Domain.PotableWater;
using Drainboard.Domain.Records;
using Microsoft.EntityFrameworkCore;
using NodaTime;

namespace Drainboard.Web.Features.Demo;

/// <summary>The drinking water of the invented fleet: two programmes, a year of what was done, and one coliform case in progress.</summary>
internal sealed class DemoWater(IDbContextFactory<DrainboardDb> factory, Instant now)
{
    private const string Quarterly = "quarterly";
    private const string LongHaul = "long-haul";

    /// <summary>The tail whose last routine set was coliform-positive.</summary>
    private const string Coliform = "QQ-MRP";

    private static readonly Dictionary<string, WaterTerms> Programmes = new()
    {
        [Quarterly] = new("Quarterly (invented)", true, 91, 365, 60, false, "Marram Air water plan MA-WP 3 (invented)", "40 CFR 141.803(b)(3), table B-1: four disinfections, one set a year", []),
        [LongHaul] = new("Long haul (invented)", false, 60, 121, 36, true, "Marram Air water plan MA-WP 5 (invented)", "The operator's own plan, stricter than the rule (invented)",
            [new WaterItem("uv-lamp", "Ultraviolet steriliser lamp", 365, 4500), new WaterItem("fill-filter", "Fill line filter", 180), new WaterItem("galley-heater", "Galley water heater, descale", null, 3000)]),
    };

    public async Task SaveAsync(CancellationToken stop)
    {
        await using var db = await factory.CreateDbContextAsync(stop);
        var cast = new DemoCast(await db.Users.AsNoTracking().OrderBy(person => person.UserName).ToArrayAsync(stop));
        var dice = new Dice(7000);
        List<Deed> deeds = [];
        foreach (var (code, terms) in Programmes.OrderBy(one => one.Key, StringComparer.Ordinal))
        {
            var by = cast.Any(Role.ReliabilityEngineer, dice);
            _ = WaterProgramme.Save(code, terms, null, by.Name, now - Duration.FromDays(400), out var made);
            db.Add(made!);
            deeds.Add(new Deed(new Fact(ChainKey.Operator, "water.programme-saved", Guid.Empty, $"Drinking water programme {made!.Words} was saved.").With("programme", code), by, made.SavedAt));
        }

        foreach (var tail in (await db.Tails.ToArrayAsync(stop)).OrderBy(tail => tail.Registration.Value, StringComparer.Ordinal))
        {
            var layout = await db.Layouts.AsNoTracking().SingleAsync(one => one.Id == tail.Layout, stop);
            tail.KeepWaterBy(layout.Code == "W3" ? LongHaul : Quarterly);
            Year(db, deeds, tail, layout, Programmes[tail.WaterProgramme], cast, dice);
            if (tail.Registration.Value == Coliform)
            {
                InProgress(db, deeds, tail, layout, cast, dice);
            }
        }

        await db.SaveAsync(new Writing(Actor.Installation, now, [.. deeds.OrderBy(deed => deed.At)]), stop);
    }

    private void Year(DrainboardDb db, List<Deed> deeds, Tail tail, CabinLayout layout, WaterTerms terms, DemoCast cast, Dice dice)
    {
        var by = cast.Any(Role.Technician, dice);
        Do(WaterDeedKind.SelfInspected, now - Duration.FromDays(dice.Between(60, 900)), null, "MA-WI 11 (invented)");
        for (var at = now - Duration.FromDays(dice.Between(2, terms.DisinfectEveryDays - 3)); at > now - Duration.FromDays(400); at -= Duration.FromDays(dice.Between(terms.DisinfectEveryDays - 12, terms.DisinfectEveryDays - 1)))
        {
            Do(WaterDeedKind.DisinfectedAndFlushed, at, null, $"WO {dice.Between(20000, 29999)} (invented)");
        }

        foreach (var item in terms.Items)
        {
            Do(WaterDeedKind.ItemServiced, now - Duration.FromDays(dice.Between(5, 170)), item, $"WO {dice.Between(20000, 29999)} (invented)");
        }

        var collected = now - Duration.FromDays(dice.Between(8, terms.SampleEveryDays - 4));
        if (SampleSet.Collect(new SampleSetId(NewId.At(collected)), tail, layout, SamplePurpose.Routine, SampleTaps.Choose(layout, SamplePurpose.Routine, new Dictionary<Position, long>(), []), null, [], collected, null, by, collected, out var set) is Decision.Done taken)
        {
            deeds.Add(new Deed(taken.Fact, by, collected));
            var told = collected + Duration.FromHours(50);
            deeds.Add(new Deed(((Decision.Done)set!.Tell([.. set.Samples.Select((_, index) => (index, collected + Duration.FromHours(6), false, false))], told)).Fact, by, told));
            db.Add(set);
        }

        void Do(WaterDeedKind kind, Instant at, WaterItem? item, string words)
        {
            deeds.Add(new Deed(((Decision.Done)WaterDeed.Record(new WaterDeedId(NewId.At(at)), tail, kind, at, item, null, words, by, at, out var made)).Fact, by, at));
            db.Add(made!);
        }
    }

    /// <summary>Told yesterday; access is restricted, it is disinfected, and the follow-up set is the next thing to do.</summary>
    private void InProgress(DrainboardDb db, List<Deed> deeds, Tail tail, CabinLayout layout, DemoCast cast, Dice dice)
    {
        var (tech, control) = (cast.Any(Role.Technician, dice), cast.Any(Role.MaintenanceController, dice));
        var (collected, told, disinfected) = (now - Duration.FromHours(70), now - Duration.FromHours(22), now - Duration.FromHours(3));
        var taps = SampleTaps.Choose(layout, SamplePurpose.Routine, new Dictionary<Position, long>(), []);
        Note(SampleSet.Collect(new SampleSetId(NewId.At(collected)), tail, layout, SamplePurpose.Routine, taps, null, [], collected, null, tech, collected, out var set), tech, collected);
        Note(set!.Tell([(0, collected + Duration.FromHours(5), false, false), (1, collected + Duration.FromHours(5), true, false)], told), control, told);
        Note(WaterCase.Open(new WaterCaseId(NewId.At(told)), tail, WaterEvent.ColiformPositive, told, false, set, "", control, told, out var one), control, told);
        Note(one!.Choose("ii", told), control, told + Duration.FromMinutes(20));
        Note(one.Do(WaterAct.RestrictAccess, told + Duration.FromHours(2), tech, now), tech, told + Duration.FromHours(2));
        Note(one.Do(WaterAct.NoticeToGalley, told + Duration.FromHours(2), tech, now), tech, told + Duration.FromHours(2));
        Note(WaterDeed.Record(new WaterDeedId(NewId.At(disinfected)), tail, WaterDeedKind.DisinfectedAndFlushed, disinfected, null, null, "WO 30417 (invented)", tech, disinfected, out var deed), tech, disinfected);
        db.AddRange(set, one, deed!);

        void Note(Decision decision, Actor by, Instant at) => deeds.Add(new Deed(((Decision.Done)decision).Fact, by, at));
    }
}
