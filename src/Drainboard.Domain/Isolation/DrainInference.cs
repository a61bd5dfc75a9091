namespace Drainboard.Domain.Isolation;

/// <summary>
/// Exact inference on the drainage tree by message passing. All that a fixture feels of the segments below it is how many are blocked, so
/// messages are tables over that count: time grows with the number of segments times the depth of the tree, never with 2 to their number.
/// </summary>
public sealed class DrainInference
{
    private readonly DrainTree _tree;
    private readonly PourModel _model;
    private readonly IReadOnlyDictionary<string, PourResult> _evidence;
    private readonly List<DrainOutlet>[] _poured;
    private readonly double[][] _up;
    private readonly double[][] _here;
    private readonly double[] _slow;
    private readonly double[][] _count;
    private readonly double[][] _below;
    private double _logEvidence;

    private DrainInference(DrainTree tree, PourModel model, IReadOnlyDictionary<string, PourResult> evidence)
    {
        (_tree, _model, _evidence) = (tree, model, evidence);
        _poured = [.. tree.Segments.Select(_ => new List<DrainOutlet>())];
        foreach (var outlet in tree.Outlets.Where(outlet => evidence.ContainsKey(outlet.Id)))
        {
            _poured[tree.EntryOf(outlet)].Add(outlet);
        }

        _up = new double[tree.Segments.Count][];
        _here = new double[tree.Segments.Count][];
        _slow = [.. Enumerable.Range(0, tree.Depths.DefaultIfEmpty(0).Max() + 1).Select(model.Slow)];
        _count = new double[tree.Segments.Count][];
        _below = new double[tree.Segments.Count][];
    }

    /// <param name="evidence">Results by fixture; each fixture is in the tree.</param>
    /// <returns>Null when the evidence contradicts the model: no state at all could have produced it.</returns>
    public static DrainPosterior? Infer(DrainTree tree, PourModel model, IReadOnlyDictionary<string, PourResult> evidence)
    {
        var inference = new DrainInference(tree, model, evidence);
        if (!inference.PassUp())
        {
            return null;
        }

        inference.PassDown();
        var marginals = tree.Segments.Select((segment, at) => (segment.Id, inference.Marginal(at))).ToDictionary(pair => pair.Id, pair => pair.Item2, StringComparer.Ordinal);
        return new DrainPosterior(Math.Exp(inference._logEvidence), marginals, BestStates.Find(tree, inference.Local, inference._logEvidence), inference.SingleFault(), inference.NextPours());
    }

    /// <summary>From the strainers to the mast: for each segment, the evidence above it, by how many below it are blocked.</summary>
    private bool PassUp()
    {
        foreach (var at in _tree.Order.Reverse())
        {
            var depth = _tree.Depths[at];
            _here[at] = [.. Enumerable.Range(0, depth + 1).Select(blocked => Local(at, blocked))];
            foreach (var child in _tree.Children[at])
            {
                for (var blocked = 0; blocked <= depth; blocked++)
                {
                    _here[at][blocked] *= _up[child][blocked];
                }
            }

            var prior = _tree.Segments[at].Prior;
            _up[at] = [.. Enumerable.Range(0, depth).Select(below => ((1 - prior) * _here[at][below]) + (prior * _here[at][below + 1]))];

            // Scaled, so that dozens of unlikely pours do not vanish in a double.
            var largest = _up[at].Max();
            if (largest <= 0)
            {
                return false;
            }

            _logEvidence += Math.Log(largest);
            _up[at] = [.. _up[at].Select(value => value / largest)];
            _here[at] = [.. _here[at].Select(value => value / largest)];
        }

        var ends = _tree.Order.Where(at => _tree.ParentOf(at) < 0).Select(at => _up[at][0]).ToArray();
        _logEvidence += ends.Sum(Math.Log);
        return ends.All(value => value > 0);
    }

    /// <summary>From the mast to the strainers: for each segment, the distribution of how many are blocked up to and with it.</summary>
    private void PassDown()
    {
        foreach (var at in _tree.Order)
        {
            var (depth, prior) = (_tree.Depths[at], _tree.Segments[at].Prior);
            _below[at] ??= [1.0];
            var joint = new double[depth + 1];
            for (var count = 0; count < depth; count++)
            {
                joint[count] += _below[at][count] * (1 - prior);
                joint[count + 1] += _below[at][count] * prior;
            }

            _count[at] = Normalised([.. joint.Select((value, count) => value * _here[at][count])]);
            foreach (var child in _tree.Children[at])
            {
                // Everything but what came from that child itself.
                _below[child] = Normalised([.. joint.Select((value, count) => value * Local(at, count) * _tree.Children[at].Where(other => other != child).Aggregate(1.0, (product, other) => product * _up[other][count]))]);
            }
        }
    }

    private double Marginal(int at)
    {
        var (prior, blocked, free) = (_tree.Segments[at].Prior, 0.0, 0.0);
        for (var count = 0; count < _below[at].Length; count++)
        {
            free += _below[at][count] * (1 - prior) * _here[at][count];
            blocked += _below[at][count] * prior * _here[at][count + 1];
        }

        return blocked / (blocked + free);
    }

    /// <summary>The likelihood of the pours at fixtures that enter here, with so many blocked on their path.</summary>
    private double Local(int at, int blocked)
    {
        if (_poured[at].Count == 0)
        {
            return 1;
        }

        // The same for every segment with so many below it blocked: worked out once.
        var (slow, product) = (_slow[blocked], 1.0);
        foreach (var outlet in _poured[at])
        {
            product *= _evidence[outlet.Id] == PourResult.Slow ? slow : 1 - slow;
        }

        return product;
    }

    private Dictionary<string, double> SingleFault()
    {
        // With one segment blocked every fixture above it feels one, and every other none.
        var logs = _tree.Segments.Select(segment => Math.Log(segment.Prior) - Math.Log(1 - segment.Prior)).ToArray();
        foreach (var outlet in _tree.Outlets.Where(outlet => _evidence.ContainsKey(outlet.Id)))
        {
            var (without, with) = (Math.Log(_model.Likelihood(_evidence[outlet.Id], 0)), Math.Log(_model.Likelihood(_evidence[outlet.Id], 1)));
            var on = outlet.Path.Select(_tree.IndexOf).ToHashSet();
            for (var at = 0; at < logs.Length; at++)
            {
                logs[at] += on.Contains(at) ? with : without;
            }
        }

        var largest = logs.Length == 0 ? 0 : logs.Max();
        var weights = logs.Select(log => double.IsNegativeInfinity(log) || double.IsNegativeInfinity(largest) ? 0 : Math.Exp(log - largest)).ToArray();
        var sum = weights.Sum();
        return _tree.Segments.Select((segment, at) => (segment.Id, Weight: sum > 0 ? weights[at] / sum : 0)).ToDictionary(pair => pair.Id, pair => pair.Weight, StringComparer.Ordinal);
    }

    /// <summary>The mutual information of a pour's outcome and the state of the drain: H(outcome) less its expectation once the state is known.</summary>
    private PourGain[] NextPours() =>
    [
        .. from outlet in _tree.Outlets
           where !_evidence.ContainsKey(outlet.Id)
           let count = _count[_tree.EntryOf(outlet)]
           let slow = count.Select((probability, blocked) => probability * _slow[blocked]).Sum()
           let known = count.Select((probability, blocked) => probability * Entropy(_slow[blocked])).Sum()
           let bits = Math.Max(0, Entropy(slow) - known)
           orderby Math.Round(bits, 10) descending, outlet.Id
           select new PourGain(outlet.Id, slow, bits),
    ];

    private static double Entropy(double p) => p is <= 0 or >= 1 ? 0 : -((p * Math.Log2(p)) + ((1 - p) * Math.Log2(1 - p)));

    private static double[] Normalised(double[] values)
    {
        var sum = values.Sum();
        return sum > 0 ? [.. values.Select(value => value / sum)] : values;
    }
}
