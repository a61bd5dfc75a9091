namespace Drainboard.Domain.Reliability;

/// <summary>Fixtures or places that are held against each other: those with faults by name, the others by how many have which exposure.</summary>
public sealed class StandingFleet
{
    private readonly List<(StandingSubject Subject, int Events, double Exposure)> _faulty = [];
    private readonly Dictionary<double, int> _clean = [];

    /// <summary>How many are tested.</summary>
    public int Tested => _faulty.Count + _clean.Values.Sum();

    public bool HasFaults => _faulty.Count > 0;

    internal IReadOnlyList<(StandingSubject Subject, int Events, double Exposure)> Faulty => _faulty;

    /// <exception cref="ArgumentException">An exposure that is not above zero, or negative events.</exception>
    public void Add(StandingSubject subject, int events, double exposure)
    {
        if (!(exposure > 0) || events < 0)
        {
            throw new ArgumentException("Exposure is above zero, and events are not negative.");
        }

        if (events > 0)
        {
            _faulty.Add((subject, events, exposure));
        }
        else
        {
            _clean[exposure] = _clean.GetValueOrDefault(exposure) + 1;
        }
    }

    internal FleetJudge Judge() => new(_faulty.GroupBy(one => (one.Events, one.Exposure)).Select(group => (group.Key.Events, group.Key.Exposure, group.Count())).Concat(_clean.Select(pair => (0, pair.Key, pair.Value))));
}
