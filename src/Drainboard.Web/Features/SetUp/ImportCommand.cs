using Drainboard.Domain.Accounts;
using Drainboard.Web.Hosting;

namespace Drainboard.Web.Features.SetUp;

internal static class ImportCommand
{
    public static async Task<int> RunAsync(IServiceProvider services, string[] args)
    {
        if (args.FirstOrDefault(arg => !arg.StartsWith('-')) is not { } folder || !Directory.Exists(folder))
        {
            Console.Error.WriteLine("Name an existing folder with .csv or .json files: import FOLDER [--dry]. See docs/import.md.");
            return 2;
        }

        await services.GetRequiredService<FirstRun>().MigrateAsync(CancellationToken.None);
        var files = await ImportSource.ReadFolderAsync(folder, CancellationToken.None);
        var report = await services.GetRequiredService<Importer>().RunAsync(files, args.Contains("--dry"), Actor.Installation, CancellationToken.None);
        foreach (var fault in report.Faults)
        {
            Console.WriteLine($"{fault.File}{(fault.Row is { } row ? $", row {row}" : "")}{(fault.Column is { } column ? $", column {column}" : "")}: {fault.Words}");
        }

        foreach (var count in report.Counts)
        {
            Console.WriteLine($"{count.Table}: {count.Added} new, {count.Changed} changed, {count.Same} as before");
        }

        Console.WriteLine(report switch
        {
            { Clean: false } => $"{report.Faults.Count} faults. Nothing was imported.",
            { Saved: true } => "Imported.",
            { Moved: 0 } => "Nothing to change.",
            _ => "Clean. Nothing was imported: this was a dry run.",
        });
        return report.Clean ? 0 : 1;
    }
}
