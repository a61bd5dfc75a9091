using System.Diagnostics;
using System.Globalization;
using System.Text;
using Drainboard.Domain.Reliability;

namespace Drainboard.Benchmarks;

/// <summary>Random cases against R (poisson.test, p.adjust, survreg), where R is installed: the largest relative difference of each number.</summary>
internal static class RepeatsAgainstR
{
    private const int Cases = 300;

    public static async Task<int> RunAsync()
    {
        var dice = new Random(20261126);
        var (script, ours) = (new StringBuilder("options(digits = 17)\nout <- function(...) cat(sprintf('%.17g', c(...)), '\\n')\nsuppressWarnings(library(survival))\n"), new List<(string What, double[] Values)>());
        for (var run = 0; run < Cases; run++)
        {
            var (x, y, t, u) = (dice.Next(60), dice.Next(1, 400), 1 + (dice.NextDouble() * 50), 10 + (dice.NextDouble() * 900));
            var (rate, ratio) = (PoissonRate.Limits(x, t), RateRatio.Of(x, t, y, u));
            script.AppendLine(Text($"out(poisson.test({x}, {t:R})$conf.int)")).AppendLine(Text($"a <- poisson.test(c({x}, {y}), c({t:R}, {u:R})); out(a$conf.int, poisson.test(c({x}, {y}), c({t:R}, {u:R}), alternative = 'greater')$p.value)"));
            ours.Add(("limits of a rate", [rate.Low, rate.High]));
            ours.Add(("limits of a ratio, and its one-sided p", [ratio.Limits.Low, ratio.Limits.High, ratio.PGreater]));
        }

        for (var run = 0; run < Cases / 10; run++)
        {
            var p = Enumerable.Range(0, dice.Next(1, 40)).Select(_ => Math.Round(Math.Pow(dice.NextDouble(), 3), 3)).ToArray();
            script.AppendLine(Text($"out(p.adjust({List(p)}, 'BH'))"));
            ours.Add(("adjusted p", [.. FalseDiscovery.Adjust(p)]));
            var ages = Enumerable.Range(0, 30).Select(_ => new Age(1 + (dice.NextDouble() * 200), dice.Next(3) > 0)).ToArray();
            script.AppendLine(Text($"f <- survreg(Surv({List([.. ages.Select(age => age.Time)])}, {List([.. ages.Select(age => age.Blocked ? 1.0 : 0)])}) ~ 1, dist = 'weibull', control = survreg.control(rel.tolerance = 1e-14, maxiter = 100)); out(1 / f$scale, exp(coef(f)))"));
            ours.Add(("Weibull shape and scale", [WeibullFit.Of(ages)!.Shape, WeibullFit.Of(ages)!.Scale]));
        }

        return await CompareAsync(script.ToString(), ours);
    }

    private static async Task<int> CompareAsync(string script, List<(string What, double[] Values)> ours)
    {
        using var r = new Process { StartInfo = new ProcessStartInfo("Rscript", ["-"]) { RedirectStandardInput = true, RedirectStandardOutput = true } };
        try
        {
            r.Start();
        }
        catch (System.ComponentModel.Win32Exception)
        {
            Console.WriteLine("R is not installed here: nothing was compared.");
            return 1;
        }

        var writing = Task.Run(async () =>
        {
            await r.StandardInput.WriteAsync(script);
            r.StandardInput.Close();
        });
        var lines = (await r.StandardOutput.ReadToEndAsync()).Split('\n', StringSplitOptions.RemoveEmptyEntries);
        await writing;
        foreach (var group in ours.Zip(lines).GroupBy(pair => pair.First.What))
        {
            var worst = group.SelectMany(pair => pair.First.Values.Zip(pair.Second.Split(' ', StringSplitOptions.RemoveEmptyEntries), (mine, theirs) => Difference(mine, Parse(theirs)))).Max();
            Console.WriteLine($"{group.Key}: {group.Count()} cases, largest relative difference {worst:0.0E0}");
        }

        return lines.Length == ours.Count ? 0 : 1;
    }

    private static double Difference(double mine, double theirs) => mine == theirs ? 0 : Math.Abs(mine - theirs) / Math.Max(Math.Abs(theirs), 1e-300);

    private static double Parse(string text) => text == "Inf" ? double.PositiveInfinity : double.Parse(text, CultureInfo.InvariantCulture);

    private static string List(double[] values) => $"c({string.Join(", ", values.Select(value => value.ToString("R", CultureInfo.InvariantCulture)))})";

    private static string Text(FormattableString text) => FormattableString.Invariant(text);
}
