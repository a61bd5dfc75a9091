using Drainboard.Data;
using Drainboard.Domain.Accounts;
using Drainboard.Domain.Warnings;
using MailKit.Net.Smtp;
using Microsoft.EntityFrameworkCore;
using MimeKit;
using NodaTime;

namespace Drainboard.Web.Features.Warnings;

/// <summary>
/// Mails the warnings that are to be mailed. A warning is taken by one process before it is sent and marked after; one that died in between
/// leaves it to be taken again ten minutes later, under the same message id, so that the receiving side can tell it for the same.
/// </summary>
public sealed class WarningMailer(IDbContextFactory<DrainboardDb> factory, IClock clock, ILogger<WarningMailer> log, MailSettings? settings = null)
{
    private static readonly Duration TakenFor = Duration.FromMinutes(10);
    private const int AtOnce = 50;
    private const int MostTries = 12;

    public bool IsSetUp => settings is not null;

    /// <returns>How many were sent.</returns>
    public async Task<int> RunAsync(CancellationToken stop)
    {
        if (settings is not { } server)
        {
            return 0;
        }

        var waiting = await WaitingAsync(stop);
        if (waiting.Length == 0)
        {
            return 0;
        }

        using var client = await server.ConnectAsync(stop);

        var sent = 0;
        foreach (var (warning, address) in waiting)
        {
            sent += await SendAsync(client, server, warning, address, stop) ? 1 : 0;
        }

        await client.DisconnectAsync(true, stop);
        return sent;
    }

    private async Task<(Warning Warning, string Address)[]> WaitingAsync(CancellationToken stop)
    {
        await using var db = await factory.CreateDbContextAsync(stop);
        var before = clock.GetCurrentInstant() - TakenFor;
        var reachable = await db.Users.AsNoTracking().Where(person => !person.IsDisabled && person.Email != null && person.Email != "").ToDictionaryAsync(person => new PersonId(person.Id), person => person.Email!, stop);
        var people = reachable.Keys.ToArray();
        var rows = await db.Warnings.AsNoTracking()
            .Where(warning => warning.ByMail && warning.MailedAt == null && warning.MailTries < MostTries && (warning.MailBegunAt == null || warning.MailBegunAt < before) && people.Contains(warning.Person))
            .OrderBy(warning => warning.MadeAt).Take(AtOnce).ToArrayAsync(stop);
        return [.. rows.Select(row => (row, reachable[row.Person]))];
    }

    private async Task<bool> SendAsync(SmtpClient client, MailSettings server, Warning warning, string address, CancellationToken stop)
    {
        await using var db = await factory.CreateDbContextAsync(stop);
        var (now, begun) = (clock.GetCurrentInstant(), warning.MailBegunAt);
        var taken = await db.Warnings.Where(row => row.Id == warning.Id && row.MailedAt == null && row.MailBegunAt == begun)
            .ExecuteUpdateAsync(set => set.SetProperty(row => row.MailBegunAt, now).SetProperty(row => row.MailTries, row => row.MailTries + 1), stop);
        if (taken == 0)
        {
            return false;
        }

        try
        {
            await client.SendAsync(Message(server, warning, address), stop);
        }
        catch (Exception failure) when (failure is SmtpCommandException or SmtpProtocolException or FormatException)
        {
            log.LogWarning(failure, "Warning {Warning} could not be mailed; it stays in the program and is tried again", warning.Id);
            return false;
        }

        // Said to be sent: this must be known even where the process is being stopped.
        await db.Warnings.Where(row => row.Id == warning.Id).ExecuteUpdateAsync(set => set.SetProperty(row => row.MailedAt, clock.GetCurrentInstant()), CancellationToken.None);
        return true;
    }

    private static MimeMessage Message(MailSettings server, Warning warning, string address)
    {
        var message = new MimeMessage { Subject = warning.Words.Split(". ")[0], MessageId = $"warning-{warning.Id}@drainboard", Body = new TextPart("plain") { Text = $"{warning.Words}\n\nWorking copy. The aircraft log governs; this is not a release.\nYou follow this in Drainboard, under Clocks, Warnings and calendar.\n" } };
        message.From.Add(MailboxAddress.Parse(server.From));
        message.To.Add(MailboxAddress.Parse(address));
        return message;
    }
}
