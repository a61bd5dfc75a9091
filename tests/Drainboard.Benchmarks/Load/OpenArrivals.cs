using System.Diagnostics;

namespace Drainboard.Benchmarks.Load;

/// <summary>Calls at random moments, whether or not earlier ones were answered: a slow answer delays nobody else's question. Each time counts from the moment the call was due.</summary>
internal static class OpenArrivals
{
    /// <param name="perSecond">Calls in a second, on average.</param>
    /// <param name="calls">Taken in turn; each is told its number.</param>
    /// <returns>Milliseconds, by call, in order of arrival.</returns>
    public static async Task<double[][]> RunAsync(double perSecond, TimeSpan length, int seed, params Func<int, Task>[] calls)
    {
        var (running, dice, due) = (new List<Task<double>>(), new Random(seed), 0.0);
        for (var began = Stopwatch.GetTimestamp(); due < length.TotalSeconds; due -= Math.Log(1 - dice.NextDouble()) / perSecond)
        {
            // A delay ends a millisecond or two late, so the last of it is watched.
            while (due - Stopwatch.GetElapsedTime(began).TotalSeconds is var wait and > 0)
            {
                await (wait > 0.003 ? Task.Delay(TimeSpan.FromSeconds(wait - 0.002)) : Task.CompletedTask);
            }

            var (number, at) = (running.Count, began + (long)(due * Stopwatch.Frequency));
            running.Add(Task.Run(async () =>
            {
                await calls[number % calls.Length](number / calls.Length);
                return Stopwatch.GetElapsedTime(at).TotalMilliseconds;
            }));
        }

        var times = await Task.WhenAll(running);
        return [.. calls.Select((_, call) => times.Where((_, number) => number % calls.Length == call).ToArray())];
    }
}
