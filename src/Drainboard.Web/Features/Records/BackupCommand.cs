namespace Drainboard.Web.Features.Records;

internal static class BackupCommand
{
    public static Task<int> BackUpAsync(IServiceProvider services, string[] args) => WithFolderAsync("backup", args, async folder =>
    {
        var made = await services.GetRequiredService<Backups>().MakeAsync(folder, CancellationToken.None);
        Console.WriteLine($"Backup in {folder}: {made.Entries} entries in {made.Chains} chains, {made.Seals} published seals. Keep a copy in another place, and try it with verify-backup.");
        return 0;
    });

    public static Task<int> RestoreAsync(IServiceProvider services, string[] args) => WithFolderAsync("restore", args, async folder =>
    {
        var found = await services.GetRequiredService<Backups>().RestoreAsync(folder, CancellationToken.None);
        return Say(found, "Restored");
    });

    public static Task<int> VerifyAsync(IServiceProvider services, string[] args) => WithFolderAsync("verify-backup", args, async folder =>
        Say(await services.GetRequiredService<Backups>().TryAsync(folder, CancellationToken.None), "The backup restores"));

    private static async Task<int> WithFolderAsync(string command, string[] args, Func<string, Task<int>> run)
    {
        if (args is not [var folder])
        {
            Console.Error.WriteLine($"{command} FOLDER");
            return 2;
        }

        try
        {
            return await run(folder);
        }
        catch (Exception failure) when (failure is BackupFailedException or IOException or UnauthorizedAccessException or System.Data.Common.DbException or FormatException)
        {
            Console.Error.WriteLine(failure.Message);
            return 1;
        }
    }

    private static int Say(Verification found, string done)
    {
        foreach (var broken in found.Breaks)
        {
            Console.WriteLine($"BREAK ({broken.Kind}): {broken.Words}");
        }

        Console.WriteLine(found.Whole ? $"{done}: {found.Entries} entries in {found.Chains} chains and {found.Seals} seals hold, {found.Compared} seals as they were published." : $"{found.Breaks.Count} broken.");
        return found.Whole ? 0 : 1;
    }
}
