using Drainboard.Data;
using Drainboard.Domain.Records;
using Drainboard.Web.Features.Warnings;
using Drainboard.Web.Hosting;
using Microsoft.EntityFrameworkCore;
using MimeKit;

namespace Drainboard.Web.Features.Records;

/// <summary>
/// Takes every seal out of the database's reach: into a file beside it, and by mail where addresses are set. What is out already is read from
/// the files themselves, so a round that was cut short is made good by the next.
/// </summary>
public sealed class SealPublisher(IDbContextFactory<DrainboardDb> factory, Settings settings, MailSettings? mail = null)
{
    public const string FileName = "seals.jsonl";

    /// <summary>The seals that were mailed, one a line as in <see cref="FileName"/>.</summary>
    public const string MailedName = "seals-mailed.jsonl";

    public async Task RunAsync(CancellationToken stop)
    {
        await using var db = await factory.CreateDbContextAsync(stop);
        var seals = await db.Seals.AsNoTracking().OrderBy(seal => seal.Number).ToArrayAsync(stop);
        await PublishAsync(seals, FileName, _ => Task.CompletedTask, stop);
        if (mail is { } server && settings.SealsTo.Count > 0)
        {
            await PublishAsync(seals, MailedName, seal => MailAsync(server, seal, stop), stop);
        }
    }

    /// <summary>The seals in a file of published ones; a last line that was cut short is none.</summary>
    /// <exception cref="FormatException">Another line is no seal.</exception>
    public static async Task<IReadOnlyList<PublishedSeal>> ReadAsync(string file, CancellationToken stop)
    {
        if (!File.Exists(file))
        {
            return [];
        }

        var text = await File.ReadAllTextAsync(file, stop);
        var whole = text[..(text.LastIndexOf('\n') + 1)];
        return [.. whole.Split('\n', StringSplitOptions.RemoveEmptyEntries | StringSplitOptions.TrimEntries).Select(SealMaker.Parse)];
    }

    /// <summary>What this installation has published so far.</summary>
    public Task<IReadOnlyList<PublishedSeal>> ReadAsync(CancellationToken stop) => ReadAsync(Path.Combine(settings.DataFolder, FileName), stop);

    // Where something else stands under a number than what we have, it is left: a verification against the file says so.
    private async Task PublishAsync(IReadOnlyList<FleetSeal> seals, string name, Func<FleetSeal, Task> send, CancellationToken stop)
    {
        var file = Path.Combine(settings.DataFolder, name);
        await MendAsync(file, stop);
        var known = (await ReadAsync(file, stop)).Select(seal => seal.Seal).ToHashSet();
        foreach (var seal in seals.Where(seal => !known.Contains(seal.Number)))
        {
            await send(seal);
            await File.AppendAllTextAsync(file, SealMaker.LineOf(seal) + "\n", stop);
        }
    }

    // A line that was cut short by a full disk or a kill is taken away: its seal is published again.
    private static async Task MendAsync(string file, CancellationToken stop)
    {
        if (File.Exists(file) && await File.ReadAllTextAsync(file, stop) is { Length: > 0 } text && !text.EndsWith('\n'))
        {
            await File.WriteAllTextAsync(file, text[..(text.LastIndexOf('\n') + 1)], stop);
        }
    }

    private async Task MailAsync(MailSettings server, FleetSeal seal, CancellationToken stop)
    {
        using var message = new MimeMessage
        {
            Subject = $"Drainboard seal {seal.Number}",
            MessageId = $"seal-{seal.Number}-{seal.Root[..16]}@drainboard",
            Body = new TextPart("plain") { Text = $"{SealMaker.LineOf(seal)}\n\nThis is the seal of the whole maintenance record at that moment. Keep it: put such lines into a file, and\n\n    Drainboard.Web verify-record --seals FILE\n\nsays whether anything that it covers was altered since.\n" },
        };
        message.From.Add(MailboxAddress.Parse(server.From));
        message.To.AddRange(settings.SealsTo.Select(MailboxAddress.Parse));
        using var client = await server.ConnectAsync(stop);
        await client.SendAsync(message, stop);
        await client.DisconnectAsync(true, stop);
    }
}
