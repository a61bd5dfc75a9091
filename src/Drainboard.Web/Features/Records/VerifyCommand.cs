using Drainboard.Domain.Records;

namespace Drainboard.Web.Features.Records;

internal static class VerifyCommand
{
    public static async Task<int> RunAsync(IServiceProvider services, string[] args)
    {
        if (args is ["--export", var export])
        {
            return await CheckExportAsync(export);
        }

        if (args is not ([] or ["--seals", _]))
        {
            Console.Error.WriteLine("verify-record [--seals FILE]: FILE holds seals as they were published, one a line. verify-record --export FILE checks an exported chain by itself.");
            return 2;
        }

        IReadOnlyList<PublishedSeal> published;
        try
        {
            published = args is [_, var file] ? [.. (await File.ReadAllLinesAsync(file)).Where(line => line.Trim().Length > 0).Select(SealMaker.Parse)] : await services.GetRequiredService<SealPublisher>().ReadAsync(CancellationToken.None);
        }
        catch (Exception failure) when (failure is IOException or UnauthorizedAccessException or FormatException)
        {
            Console.Error.WriteLine($"The published seals cannot be read: {failure.Message}");
            return 2;
        }

        if (args is [_, _] && published.Count == 0)
        {
            Console.Error.WriteLine("There is no seal in that file, so nothing could be held against it.");
            return 2;
        }

        var result = await services.GetRequiredService<RecordQuery>().VerifyAsync(CancellationToken.None, published);
        Console.WriteLine($"{result.Entries} entries in {result.Chains} chains, {result.Seals} seals{(published.Count > 0 ? $", {published.Count} of them held against {(args.Length > 0 ? "the file" : "seals.jsonl in the data folder")}" : "")}.");
        foreach (var broken in result.Breaks)
        {
            Console.WriteLine($"BREAK ({broken.Kind}): {broken.Words}");
        }

        Console.WriteLine(result.Whole ? "Every chain and seal holds." : $"{result.Breaks.Count} broken.");
        return result.Whole ? 0 : 1;
    }

    private static async Task<int> CheckExportAsync(string file)
    {
        try
        {
            var (entries, covered, root, broken) = ExportedRecord.Check(await File.ReadAllLinesAsync(file));
            Console.WriteLine(broken is null ? $"{entries} entries hold{(root is null ? "; no seal is in the file" : $"; 1 to {covered} are proven in the seal with root {root}")}." : $"BREAK after {entries} entries that hold: {broken}");
            return broken is null ? 0 : 1;
        }
        catch (Exception failure) when (failure is IOException or UnauthorizedAccessException)
        {
            Console.Error.WriteLine($"The export cannot be read: {failure.Message}");
            return 2;
        }
    }
}
