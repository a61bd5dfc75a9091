using System.Text.Json;
using CsCheck;
using Drainboard.Domain.Isolation;
using Drainboard.Domain.Tests.Vectors;

namespace Drainboard.Domain.Tests.Isolation;

/// <summary>The posterior on the drainage tree: against the worked vectors, and against plain enumeration on random trees.</summary>
public sealed class DrainInferenceTests
{
    private static readonly JsonElement File = Vector.Read("12_noisy_or_drain_tree");

    /// <summary>Russell and Norvig, noisy-OR table of Fever: the same law with a link of its own for each cause.</summary>
    [Fact]
    public void NoisyOr_OfThePublishedTable_IsOneLessTheProductOfWhatFails()
    {
        var fever = File.GetProperty("aima_noisy_or");
        var q = fever.GetProperty("q");
        foreach (var row in fever.GetProperty("table_cold_flu_malaria_pfever").EnumerateArray().Select(row => row.EnumerateArray().Select(cell => cell.GetDouble()).ToArray()))
        {
            var failing = new[] { "Cold", "Flu", "Malaria" }.Select((cause, at) => row[at] > 0 ? q.Number(cause) : 1).ToArray();
            var product = failing.Aggregate(1.0, (all, one) => all * (1 - new PourModel(1 - one, 0).Slow(1)));
            Assert.Equal(row[3], 1 - product, 12);
        }
    }

    [Fact]
    public void Infer_OnTheWorkedTree_GivesEveryMarginalStateAndProbability()
    {
        var tree = Worked(out var model);
        foreach (var given in File.GetProperty("drain_tree").GetProperty("cases").EnumerateArray())
        {
            var evidence = given.GetProperty("evidence").EnumerateObject().ToDictionary(one => one.Name, one => one.Value.GetInt32() == 1 ? PourResult.Slow : PourResult.Ok);
            var posterior = DrainInference.Infer(tree, model, evidence)!;

            Assert.Equal(given.Number("p_evidence"), posterior.EvidenceProbability, 12);
            foreach (var marginal in given.GetProperty("marginals").EnumerateObject())
            {
                Assert.Equal(marginal.Value.GetDouble(), posterior.Marginals[marginal.Name], 10);
            }

            foreach (var (state, found) in given.GetProperty("top_states").EnumerateArray().Zip(posterior.TopStates))
            {
                Assert.Equal(state.Number("p"), found.Probability, 10);
            }

            foreach (var slow in given.TryGetProperty("predictive_slow", out var predicted) ? predicted.EnumerateObject() : default)
            {
                Assert.Equal(slow.Value.GetDouble(), posterior.NextPours.Single(pour => pour.Outlet == slow.Name).SlowProbability, 10);
            }
        }
    }

    [Fact]
    public void NextPours_OnTheWorkedTree_GiveTheWorkedBits()
    {
        var tree = Worked(out var model);
        var bits = File.GetProperty("drain_tree").GetProperty("expected_information_gain_bits");
        var after = DrainInference.Infer(tree, model, new Dictionary<string, PourResult> { ["G1"] = PourResult.Slow })!;

        Assert.Equal(["G2", "L1", "L2"], after.NextPours.Select(pour => pour.Outlet));
        Assert.All(bits.GetProperty("G1 slow").EnumerateObject(), one => Assert.Equal(one.Value.GetDouble(), after.NextPours.Single(pour => pour.Outlet == one.Name).Bits, 10));
    }

    /// <summary>2,000 random trees of up to twelve segments, and some of eighteen: message passing agrees with adding up all 2^n states.</summary>
    [Fact]
    public void Infer_OnRandomTrees_AgreesWithPlainEnumeration()
    {
        for (var seed = 0; seed < 2010; seed++)
        {
            var random = new Random(seed);
            var (tree, model, evidence) = RandomTree(random, seed < 2000 ? random.Next(1, 13) : 18);
            var posterior = DrainInference.Infer(tree, model, evidence);
            var (probability, marginals, best, gains) = Enumerate(tree, model, evidence);
            if (probability <= 0)
            {
                Assert.Null(posterior);
                continue;
            }

            Assert.NotNull(posterior);
            AssertClose(probability, posterior.EvidenceProbability, $"seed {seed}: evidence");
            Assert.All(marginals, pair => AssertClose(pair.Value, posterior.Marginals[pair.Key], $"seed {seed}: {pair.Key}"));
            Assert.All(gains, pair => Assert.Equal(pair.Value, posterior.NextPours.Single(pour => pour.Outlet == pair.Key).Bits, 9));
            Assert.All(best.Zip(posterior.TopStates), pair => AssertClose(pair.First, pair.Second.Probability, $"seed {seed}: top state"));
        }
    }

    /// <summary>Sure links, no leak, and results that cannot stand together: no state could have given them.</summary>
    [Fact]
    public void Infer_OfContradictoryEvidence_IsNoAnswer()
    {
        var (tree, _) = DrainTree.Build([new("S1", 0.1), new("M", 0.1)], [new("A", ["S1", "M"]), new("B", ["M"])]);
        var evidence = new Dictionary<string, PourResult> { ["A"] = PourResult.Ok, ["B"] = PourResult.Slow };

        Assert.Null(DrainInference.Infer(tree!, new PourModel(1, 0), evidence));
        Assert.NotNull(DrainInference.Infer(tree!, new PourModel(0.99, 0.001), evidence));
    }

    [Fact]
    public void Infer_OfSixtyImprobablePours_DoesNotVanish()
    {
        var segments = Enumerable.Range(0, 60).Select(at => new DrainSegment($"S{at}", 1e-4)).Append(new DrainSegment("M", 1e-6)).ToArray();
        var (tree, _) = DrainTree.Build(segments, [.. Enumerable.Range(0, 60).Select(at => new DrainOutlet($"F{at}", [$"S{at}", "M"]))]);
        var evidence = Enumerable.Range(0, 60).ToDictionary(at => $"F{at}", _ => PourResult.Slow);

        var posterior = DrainInference.Infer(tree!, new PourModel(0.95, 1e-9), evidence)!;

        Assert.True(posterior.Marginals["M"] > 0.999);
    }

    [Theory]
    [InlineData("S1 M|S2 N S1", "drains elsewhere")]
    [InlineData("S1 S2|S2 S1", "drains elsewhere")]
    [InlineData("S1 X", "no segment")]
    [InlineData("S1 S2 S1", "twice")]
    [InlineData("", "no path")]
    public void Build_OfPathsThatAreNoTree_SaysWhich(string paths, string words)
    {
        var outlets = paths.Split('|').Select((path, at) => new DrainOutlet($"F{at}", path.Split(' ', StringSplitOptions.RemoveEmptyEntries))).ToArray();
        var (tree, faults) = DrainTree.Build([new("S1", 0.1), new("S2", 0.1), new("M", 0.1), new("N", 0.1)], outlets);

        Assert.Null(tree);
        Assert.Contains(faults, fault => fault.Words.Contains(words, StringComparison.Ordinal));
    }

    private static DrainTree Worked(out PourModel model)
    {
        var worked = File.GetProperty("drain_tree");
        model = new PourModel(worked.Number("link"), worked.Number("leak"));
        return DrainTree.Build(
            [.. worked.GetProperty("priors").EnumerateObject().Select(one => new DrainSegment(one.Name, one.Value.GetDouble()))],
            [.. worked.GetProperty("paths").EnumerateObject().Select(one => new DrainOutlet(one.Name, [.. one.Value.EnumerateArray().Select(id => id.GetString()!)]))]).Tree!;
    }

    private static (DrainTree Tree, PourModel Model, Dictionary<string, PourResult> Evidence) RandomTree(Random random, int count)
    {
        var parents = Enumerable.Range(0, count).Select(at => at == 0 || random.Next(8) == 0 ? -1 : random.Next(at)).ToArray();
        var segments = parents.Select((_, at) => new DrainSegment($"S{at}", random.Next(10) == 0 ? 0.0 : random.NextDouble() * 0.5)).ToArray();
        string[] Path(int at) => at < 0 ? [] : [$"S{at}", .. Path(parents[at])];
        var outlets = Enumerable.Range(0, random.Next(1, 7)).Select(at => new DrainOutlet($"F{at}", Path(random.Next(count)))).ToArray();
        var evidence = outlets.Where(_ => random.Next(3) > 0).ToDictionary(outlet => outlet.Id, _ => random.Next(2) == 0 ? PourResult.Slow : PourResult.Ok);
        var model = random.Next(6) == 0 ? new PourModel(1, 0) : new PourModel(0.5 + (random.NextDouble() / 2), random.NextDouble() * 0.05);
        return (DrainTree.Build(segments, outlets).Tree!, model, evidence);
    }

    private static (double Probability, Dictionary<string, double> Marginals, double[] Best, Dictionary<string, double> Gains) Enumerate(DrainTree tree, PourModel model, Dictionary<string, PourResult> evidence)
    {
        var ids = tree.Segments.Select(segment => segment.Id).ToArray();
        var masks = tree.Outlets.ToDictionary(outlet => outlet.Id, outlet => outlet.Path.Sum(id => 1 << Array.IndexOf(ids, id)));
        var weights = new double[1 << ids.Length];
        for (var state = 0; state < weights.Length; state++)
        {
            weights[state] = 1;
            for (var at = 0; at < ids.Length; at++)
            {
                weights[state] *= (state & (1 << at)) != 0 ? tree.Segments[at].Prior : 1 - tree.Segments[at].Prior;
            }

            foreach (var (outlet, result) in evidence)
            {
                weights[state] *= model.Likelihood(result, System.Numerics.BitOperations.PopCount((uint)(state & masks[outlet])));
            }
        }

        var sum = weights.Sum();
        var marginals = ids.Select((id, at) => (id, weights.Where((_, state) => (state & (1 << at)) != 0).Sum() / sum)).ToDictionary(pair => pair.id, pair => pair.Item2);
        var gains = tree.Outlets.Where(outlet => !evidence.ContainsKey(outlet.Id)).ToDictionary(outlet => outlet.Id, outlet =>
        {
            double Slow(int state) => model.Slow(System.Numerics.BitOperations.PopCount((uint)(state & masks[outlet.Id])));
            var slow = weights.Select((weight, state) => weight * Slow(state)).Sum() / sum;
            return Math.Max(0, Entropy(slow) - (weights.Select((weight, state) => weight * Entropy(Slow(state))).Sum() / sum));
        });
        return (sum, marginals, [.. weights.OrderDescending().Take(3).Select(weight => weight / sum).Where(weight => weight > 0)], gains);
    }

    private static double Entropy(double p) => p is <= 0 or >= 1 ? 0 : -((p * Math.Log2(p)) + ((1 - p) * Math.Log2(1 - p)));

    private static void AssertClose(double expected, double actual, string what) =>
        Assert.True(Math.Abs(expected - actual) <= 1e-12 + (1e-9 * Math.Abs(expected)), $"{what}: {actual}, by enumeration {expected}");
}
