using System.Reflection;
using Microsoft.Playwright;

namespace Drainboard.Browser.Tests;

/// <summary>
/// A device whose end is waited for half a minute and no longer: now and then the browser never answers that a context is closed, and everything behind
/// that test would wait for ever. What the test has found out is known by then.
/// </summary>
public class ClosingInTime : DispatchProxy
{
    private static readonly TimeSpan LongEnough = TimeSpan.FromSeconds(30);

    private IBrowserContext? _inner;

    public static IBrowserContext Of(IBrowserContext inner)
    {
        var device = Create<IBrowserContext, ClosingInTime>();
        ((ClosingInTime)(object)device)._inner = inner;
        return device;
    }

    /// <summary>Until it has ended, or long enough.</summary>
    public static async Task EndAsync(Task closing) => await Task.WhenAny(closing, Task.Delay(LongEnough));

    protected override object? Invoke(MethodInfo? targetMethod, object?[]? args) =>
        targetMethod!.Name == nameof(IAsyncDisposable.DisposeAsync) ? new ValueTask(EndAsync(_inner!.CloseAsync())) : targetMethod.Invoke(_inner, BindingFlags.DoNotWrapExceptions, null, args, null);
}
