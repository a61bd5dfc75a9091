using Drainboard.Domain.Fleet;
using Drainboard.Domain.Isolation;
using Drainboard.Web.Features.Door;

namespace Drainboard.Web.Features.Isolation;

/// <summary>What a person adds to what is stored when asking where to look. What is left out is taken from the record, or not known.</summary>
/// <param name="AloftOnly">Slow in flight and fine on the ground; left out: taken from the report and a later pour.</param>
/// <param name="Outside">Outside temperature on the ground, degrees Celsius.</param>
/// <param name="BacksUpInto">Another fixture in which the water comes up.</param>
/// <param name="DidNotHold">Where the last fix was that did not hold; "none" sets aside what the record suggests.</param>
/// <param name="Flushes">Toilets that were tried and flush, separated by commas.</param>
/// <param name="Fails">Toilets that were tried and do not.</param>
public sealed record AdviceAsk(bool? AloftOnly = null, int? Outside = null, string? BacksUpInto = null, string? DidNotHold = null, string? Flushes = null, string? Fails = null, Choice<VacuumRegime>? Regime = null, bool? ReadsFull = null, bool? Emptied = null)
{
    public const string None = "none";

    public VacuumSigns Signs => new(Regime?.Value ?? VacuumRegime.NotSaid, ReadsFull, Emptied);

    public IEnumerable<(Position At, PourResult Result)> Tried =>
        Many(Flushes).Select(at => (at, PourResult.Ok)).Concat(Many(Fails).Select(at => (at, PourResult.Slow)));

    private static IEnumerable<Position> Many(string? text) =>
        (text ?? "").Split(',', StringSplitOptions.RemoveEmptyEntries | StringSplitOptions.TrimEntries).Select(one => Position.TryParse(one, out var at) ? at : default).Where(at => at != default);
}
