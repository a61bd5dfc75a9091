using NodaTime;

namespace Drainboard.Domain.TurnFit;

/// <summary>
/// When each place on board can be worked in one stay. What is known of this turn rules; what is not known is taken from the terms. A stay
/// without room for its usual activities has none.
/// </summary>
public sealed class TurnAccess
{
    private readonly Instant _arrives;
    private readonly Instant _departs;
    private readonly FitTerms _terms;
    private readonly AccessBlock[] _blocks;

    /// <param name="known">Stretches that this turn brings; of each activity in it they stand instead of the usual one.</param>
    public TurnAccess(Instant arrives, Instant departs, IReadOnlyCollection<AccessBlock> known, FitTerms terms)
    {
        (_arrives, _departs, _terms) = (arrives, departs, terms);
        var said = known.Select(block => block.Activity).ToHashSet();
        _blocks = [.. known.Concat(Usual().Where(block => !said.Contains(block.Activity))).Where(block => block.To > arrives && block.From < departs).OrderBy(block => block.From)];
    }

    /// <summary>What blocks something in this stay, in order.</summary>
    public IReadOnlyList<AccessBlock> Blocks => _blocks;

    /// <summary>The stretches in which a place can be worked, in order.</summary>
    public IReadOnlyList<(Instant From, Instant To)> Stretches(CabinPlace place)
    {
        var free = new List<(Instant, Instant)>();
        var (from, until) = place == CabinPlace.Outside ? (_arrives + Minutes(_terms.OutsideAfterArrival), _departs - Minutes(_terms.OutsideBeforeDeparture)) : (_arrives, _departs);
        foreach (var block in _blocks.Where(block => block.Activity.Blocks(place)))
        {
            if (block.From > from)
            {
                free.Add((from, Instant.Min(block.From, until)));
            }

            from = Instant.Max(from, block.To);
        }

        free.Add((from, until));
        return [.. free.Where(stretch => stretch.Item1 < stretch.Item2)];
    }

    private IEnumerable<AccessBlock> Usual()
    {
        var minutes = (_departs - _arrives).TotalMinutes;
        yield return new(GroundActivity.Deplaning, _arrives, _arrives + Minutes(_terms.DeplaningMinutes));
        if (minutes >= _terms.CateringFromTurn)
        {
            yield return After(GroundActivity.Catering, _terms.CateringAfter, _terms.CateringMinutes);
        }

        if (minutes >= _terms.CleaningFromTurn)
        {
            yield return After(GroundActivity.Cleaning, _terms.CleaningAfter, _terms.CleaningMinutes);
        }

        yield return After(GroundActivity.Servicing, _terms.ServicingAfter, _terms.ServicingMinutes);
        yield return new(GroundActivity.Boarding, _departs - Minutes(_terms.BoardingMinutes), _departs);
    }

    private AccessBlock After(GroundActivity activity, double after, double minutes) => new(activity, _arrives + Minutes(after), _arrives + Minutes(after + minutes));

    private static Duration Minutes(double minutes) => Duration.FromSeconds(Math.Round(60 * minutes));
}
