using NodaTime;

namespace Drainboard.Domain.PotableWater;

/// <summary>What a tail's drinking water programme asks for next. A day counts 24 hours from the last time (our choice: no zone moves it).</summary>
public static class WaterDues
{
    /// <param name="deeds">What was done, all of the tail.</param>
    /// <param name="sampledAt">When the newest routine set that counts was collected.</param>
    /// <param name="hoursSince">Flight hours of the tail since an instant.</param>
    /// <param name="inZone">Days and months of inspections and deficiencies are of this zone.</param>
    public static IReadOnlyList<WaterDue> Of(WaterTerms terms, IReadOnlyCollection<WaterDeed> deeds, Instant? sampledAt, Func<Instant, double> hoursSince, DateTimeZone inZone, Instant now)
    {
        Instant? Last(WaterDeedKind kind, string item = "") => deeds.Where(deed => deed.Kind == kind && deed.Item == item).Select(deed => (Instant?)deed.At).Max();
        var corrected = deeds.Select(deed => deed.Corrects).ToHashSet();
        List<WaterDue> dues =
        [
            Every("disinfection", "Disinfect and flush", terms.DisinfectEveryDays, Last(WaterDeedKind.DisinfectedAndFlushed), WaterEvent.MissedRoutine, terms.UnderSubpartX ? "40 CFR 141.803(b), 141.804(b)(2)" : terms.Source),
            Every("routine-samples", "Routine set of samples", terms.SampleEveryDays, sampledAt, WaterEvent.MissedRoutine, terms.UnderSubpartX ? "40 CFR 141.803(b)(3), table B-1" : terms.Source),
        ];
        var inspected = Last(WaterDeedKind.SelfInspected);
        var inspection = inspected?.InZone(inZone).Date.PlusMonths(terms.InspectEveryMonths);
        dues.Add(new("self-inspection", "Self-inspection", EndOf(inspection), null, inspected, inspection is null || EndOf(inspection) < now, null, terms.UnderSubpartX ? "40 CFR 141.808" : terms.Source));
        dues.AddRange(from deed in deeds
                      where deed.Kind == WaterDeedKind.DeficiencyFound && !corrected.Contains(deed.Id)
                      let due = EndOf(WaterRule.DeficiencyBy(deed.At.InZone(inZone).Date))
                      select new WaterDue($"deficiency {deed.Id.Value}", $"Put right: {deed.Words}", due, null, deed.At, due < now, null, "40 CFR 141.808"));
        foreach (var item in terms.Items)
        {
            var last = Last(WaterDeedKind.ItemServiced, item.Key);
            var due = item.EveryDays is { } days ? last + Duration.FromDays(days) : null;
            var left = item.EveryHours is { } hours && last is { } at ? hours - hoursSince(at) : (double?)null;
            dues.Add(new($"item {item.Key}", item.Name, due, left, last, last is null || due < now || left < 0, null, terms.Source));
        }

        return [.. dues.OrderBy(due => !due.IsOver).ThenBy(due => due.DueAt ?? Instant.MaxValue)];

        WaterDue Every(string key, string what, int days, Instant? last, WaterEvent missed, string source) =>
            new(key, what, last + Duration.FromDays(days), null, last, last is null || last + Duration.FromDays(days) < now, missed, source);

        // The whole of the last day is in time.
        Instant? EndOf(LocalDate? day) => day is { } date ? date.PlusDays(1).AtStartOfDayInZone(inZone).ToInstant() - Duration.FromNanoseconds(1000) : null;
    }
}
