namespace Drainboard.Domain.PotableWater;

/// <summary>Something of the drinking water system that is serviced again and again: an ultraviolet steriliser's lamp, a filter, a heater.</summary>
/// <param name="Key">Its name for programs within the programme: lower-case letters, digits and hyphens, up to 24.</param>
/// <param name="EveryDays">At the latest so many days after the last time; null: no limit in days.</param>
/// <param name="EveryHours">At the latest so many flight hours (off block to on block) after the last time; null: no limit in hours.</param>
public sealed record WaterItem(string Key, string Name, int? EveryDays = null, int? EveryHours = null);
