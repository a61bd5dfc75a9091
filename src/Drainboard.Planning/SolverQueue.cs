namespace Drainboard.Planning;

/// <summary>One solve at a time in a process: each takes every core it gets, so the others wait for their turn.</summary>
public sealed class SolverQueue : IDisposable
{
    private readonly SemaphoreSlim _one = new(1, 1);

    public void Dispose() => _one.Dispose();

    /// <param name="stop">Given up while it waits, it is solved at once: a solve that is stopped takes the plan without a solver.</param>
    public async Task<T> RunAsync<T>(Func<T> solve, CancellationToken stop)
    {
        try
        {
            await _one.WaitAsync(stop);
        }
        catch (OperationCanceledException)
        {
            return solve();
        }

        try
        {
            return await Task.Run(solve, CancellationToken.None);
        }
        finally
        {
            _one.Release();
        }
    }
}
