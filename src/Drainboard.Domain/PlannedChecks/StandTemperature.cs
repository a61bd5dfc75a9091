using System.Globalization;
using Drainboard.Domain.Accounts;
using Drainboard.Domain.Fleet;
using Drainboard.Domain.Records;
using NodaTime;

namespace Drainboard.Domain.PlannedChecks;

/// <summary>
/// How cold it is on a station's stands, or how cold it is expected to get: told by people or by a feed. A measured one holds for
/// <see cref="MeasuredHolds"/>, an expected lowest one until the end that it names. It never changes; a newer word of its sort takes its place.
/// </summary>
public sealed class StandTemperature
{
    /// <summary>Older than this a measured temperature says nothing about now (our choice).</summary>
    public static readonly Duration MeasuredHolds = Duration.FromHours(3);

    /// <summary>Further ahead than this no lowest temperature is foretold (our choice).</summary>
    public static readonly Duration FurthestAhead = Duration.FromHours(48);

    private StandTemperature()
    {
    }

    public StandTemperatureId Id { get; private set; }

    public StationCode Station { get; private set; }

    /// <summary>Degrees Celsius, -60 to 60.</summary>
    public int Celsius { get; private set; }

    public Instant From { get; private set; }

    public Instant Until { get; private set; }

    /// <summary>It is the lowest that is expected, not a measured one.</summary>
    public bool IsExpected { get; private set; }

    public string ByName { get; private set; } = "";

    public Instant RecordedAt { get; private set; }

    public string Words => IsExpected ? $"down to {Degrees} expected" : Degrees;

    private string Degrees => $"{Celsius.ToString(CultureInfo.InvariantCulture)} °C".Replace("-", "\u2212", StringComparison.Ordinal);

    /// <summary>Records it. On <see cref="Decision.Done"/> <paramref name="made"/> is to be stored.</summary>
    /// <param name="at">When it was measured, or was foretold.</param>
    /// <param name="until">The end of the time for which a lowest one is expected; null: it is measured.</param>
    public static Decision Tell(StandTemperatureId id, Station station, int celsius, Instant at, Instant? until, Actor by, Instant now, out StandTemperature? made)
    {
        made = null;
        var from = Instant.Min(at, now);
        if (celsius is < -60 or > 60)
        {
            return new Refusal("celsius", "A temperature outside is -60 to 60 °C.");
        }

        if (until is null && from + MeasuredHolds <= now)
        {
            return new Refusal("too-old", $"A measured temperature says something for {MeasuredHolds.TotalHours:0} hours; this one is older. Read it anew.");
        }

        if (until is { } end && (end <= now || end > from + FurthestAhead))
        {
            return new Refusal("until", $"The lowest temperature is expected until a time that is to come, within {FurthestAhead.TotalHours:0} hours of when it was foretold.");
        }

        made = new StandTemperature { Id = id, Station = station.Code, Celsius = celsius, From = from, Until = until ?? from + MeasuredHolds, IsExpected = until is not null, ByName = by.Name, RecordedAt = now };
        return new Fact(ChainKey.For(station.Code), "temperature.told", Guid.Empty, $"Outside at {station.Code}: {made.Words}.").With("temperature", id.Value).With("celsius", celsius).With("from", made.From).With("until", made.Until).With("expected", made.IsExpected);
    }

    /// <param name="told">Everything told within <see cref="FurthestAhead"/>: what is over still takes the place of what came before it.</param>
    /// <summary>What holds now at one station: the newest measured one and the newest expected one, where their time is not over.</summary>
    public static IEnumerable<StandTemperature> Holding(IEnumerable<StandTemperature> told, Instant now) => told
        .GroupBy(one => one.IsExpected).Select(alike => alike.MaxBy(one => (one.From, one.RecordedAt))!).Where(one => one.Until > now);

    /// <summary>The coldest that is known of a stretch of time; null where nothing is.</summary>
    public static StandTemperature? Coldest(IEnumerable<StandTemperature> told, Instant from, Instant until, Instant now) =>
        Holding(told, now).Where(one => one.From < until && one.Until > from).MinBy(one => one.Celsius);
}
