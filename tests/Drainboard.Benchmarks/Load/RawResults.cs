using System.Globalization;
using Drainboard.Testing.Processes;

namespace Drainboard.Benchmarks.Load;

/// <summary>Every single time that was measured, kept beside what is made of them: artifacts/load/NAME.csv, one line each.</summary>
internal sealed class RawResults : IDisposable
{
    private readonly StreamWriter _file;

    public RawResults(string name)
    {
        var folder = Directory.CreateDirectory(Path.Combine(Repository.Root, "artifacts", "load")).FullName;
        _file = new StreamWriter(Path.Combine(folder, $"{name}.csv"));
        _file.WriteLine("set,run,what,milliseconds");
    }

    public void Add(string set, int run, string what, IEnumerable<double> milliseconds)
    {
        foreach (var one in milliseconds)
        {
            _file.WriteLine(string.Create(CultureInfo.InvariantCulture, $"{set},{run},{what},{one:0.000}"));
        }
    }

    public void Dispose() => _file.Dispose();

    public static double Quantile(IEnumerable<double> times, double share)
    {
        var sorted = times.Order().ToArray();
        return sorted[Math.Min(sorted.Length - 1, (int)(sorted.Length * share))];
    }
}
