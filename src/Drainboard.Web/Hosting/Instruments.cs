using System.Diagnostics;
using System.Diagnostics.Metrics;

namespace Drainboard.Web.Hosting;

/// <summary>What this program measures of itself, beside what the framework and the database's driver measure. Nobody listens unless <see cref="Telemetry"/> is asked to.</summary>
internal static class Instruments
{
    public const string Name = "Drainboard";

    private static readonly Meter Meter = new(Name);

    public static ActivitySource Source { get; } = new(Name);

    /// <summary>Seconds from a wish at the door to its answer, tries again included; by act and kind of answer.</summary>
    public static Histogram<double> Acts { get; } = Meter.CreateHistogram<double>("drainboard.act.duration", "s", "From a wish to its answer");

    /// <summary>Seconds from when a change was tried until this process tells its open pages of it.</summary>
    public static Histogram<double> ChangesTold { get; } = Meter.CreateHistogram<double>("drainboard.change.told", "s", "From a change to the open pages of this process");

    /// <summary>Seconds of a reading that open pages share; by what was read.</summary>
    public static Histogram<double> Readings { get; } = Meter.CreateHistogram<double>("drainboard.reading.duration", "s", "A reading that open pages share");

    /// <summary>Open pages, and whoever else follows the changes in this process.</summary>
    public static UpDownCounter<int> Following { get; } = Meter.CreateUpDownCounter<int>("drainboard.changes.following", description: "Who follows the changes in this process");

    /// <summary>Rounds of background work; by duty, and whether it failed.</summary>
    public static Counter<int> Rounds { get; } = Meter.CreateCounter<int>("drainboard.duty.rounds", description: "Rounds of background work");

    public static void Round(string duty, bool failed) => Rounds.Add(1, new("duty", duty), new("failed", failed));
}
