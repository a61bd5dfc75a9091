namespace Drainboard.Web.Features.Records;

internal static class VerifyCommand
{
    public static async Task<int> RunAsync(IServiceProvider services)
    {
        var result = await services.GetRequiredService<RecordQuery>().VerifyAsync(CancellationToken.None);
        Console.WriteLine($"{result.Entries} entries in {result.Chains} chains.");
        foreach (var broken in result.Breaks)
        {
            Console.WriteLine($"BREAK ({broken.Kind}): {broken.Words}");
        }

        Console.WriteLine(result.Whole ? "Every chain holds." : $"{result.Breaks.Count} chains are broken.");
        return result.Whole ? 0 : 1;
    }
}
