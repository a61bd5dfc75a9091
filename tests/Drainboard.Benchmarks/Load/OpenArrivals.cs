using System.Diagnostics;

namespace Drainboard.Benchmarks.Load;

/// <summary>Calls at random moments, whether or not earlier ones were answered: a slow answer delays nobody else's question. Each time counts from the moment the call was due.</summary>
internal static class OpenArrivals
{
    /// <param name="perSecond">Calls in a second, on average.</param>
    /// <param name="calls">Each once in a random order, then each once more: none has always the same one before it. Each is told its round.</param>
    /// <returns>Milliseconds, by call, in order of arrival.</returns>
    public static async Task<double[][]> RunAsync(double perSecond, TimeSpan length, int seed, params Func<int, Task>[] calls)
    {
        var (running, dice, due) = (new List<(int Call, Task<double> Time)>(), new Random(seed), 0.0);
        var order = Enumerable.Range(0, calls.Length).ToArray();
        for (var began = Stopwatch.GetTimestamp(); due < length.TotalSeconds; due -= Math.Log(1 - dice.NextDouble()) / perSecond)
        {
            // A delay ends a millisecond or two late, so the last of it is watched.
            while (due - Stopwatch.GetElapsedTime(began).TotalSeconds is var wait and > 0)
            {
                await (wait > 0.003 ? Task.Delay(TimeSpan.FromSeconds(wait - 0.002)) : Task.CompletedTask);
            }

            var (round, place) = Math.DivRem(running.Count, calls.Length);
            if (place == 0)
            {
                dice.Shuffle(order);
            }

            var (call, at) = (order[place], began + (long)(due * Stopwatch.Frequency));
            running.Add((call, Task.Run(async () =>
            {
                await calls[call](round);
                return Stopwatch.GetElapsedTime(at).TotalMilliseconds;
            })));
        }

        await Task.WhenAll(running.Select(one => one.Time));
        return [.. calls.Select((_, call) => running.Where(one => one.Call == call).Select(one => one.Time.Result).ToArray())];
    }
}
