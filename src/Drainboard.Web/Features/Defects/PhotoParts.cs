using System.Security.Cryptography;
using Drainboard.Data;
using Drainboard.Data.Records;
using Drainboard.Domain;
using Drainboard.Domain.Accounts;
using Drainboard.Domain.Defects;
using Drainboard.Web.Features.Door;
using Microsoft.EntityFrameworkCore;
using NodaTime;

namespace Drainboard.Web.Features.Defects;

/// <summary>How much of a photo is here.</summary>
/// <param name="Received">Bytes from its beginning without a gap: where to go on.</param>
public sealed record PhotoArrival(long Received, bool Complete);

/// <summary>
/// The pieces of photos on their way. A piece begins where the last one ended (a partial PUT: RFC 9110, 14.4 and 14.5); with the last of
/// them the whole is put together, held against its SHA-256, and taken as a photo that came at once.
/// </summary>
public sealed class PhotoParts(IDbContextFactory<DrainboardDb> factory, IClock clock)
{
    public async Task<(PhotoArrival? Arrival, Answer? No)> ReadAsync(Actor actor, ReportId id, string sha256, CancellationToken stop)
    {
        await using var db = await factory.CreateDbContextAsync(stop);
        var (report, no) = await ReportAsync(db, actor, id, stop);
        return report is null ? (null, no) : (await HasAsync(db, id, sha256, stop) ? new PhotoArrival(0, true) : new PhotoArrival(await ReceivedAsync(db, id, sha256, stop), false), null);
    }

    /// <returns>The whole, once it is there; else how much is.</returns>
    public async Task<(byte[]? Whole, PhotoArrival? Arrival, Answer? No)> AddAsync(Actor actor, ReportId id, string sha256, int offset, int total, byte[] bytes, CancellationToken stop)
    {
        await using var db = await factory.CreateDbContextAsync(stop);
        var (report, no) = await ReportAsync(db, actor, id, stop);
        if (report is null)
        {
            return (null, null, no);
        }

        var received = await ReceivedAsync(db, id, sha256, stop);
        if (received >= total)
        {
            // All of it is here, and a process died before it was put together.
            return await JoinAsync(db, id, sha256, stop);
        }

        if (received == 0 && await db.PhotoParts.Where(part => part.Report == id).Select(part => part.Sha256).Distinct().CountAsync(stop) >= Report.MostPhotos)
        {
            return (null, null, new Answer.Refused(new Refusal("too-many-photos", $"A report takes {Report.MostPhotos} photos, and pieces of as many are here already. Send those to the end first.")));
        }

        if (offset != received)
        {
            // Already here, or a gap before it: the sender is told where to go on.
            return (null, new PhotoArrival(received, false), null);
        }

        db.PhotoParts.Add(new PhotoPart(id, sha256, offset, bytes, clock.GetCurrentInstant()));
        try
        {
            await db.SaveAsync(new Writing(actor, clock.GetCurrentInstant(), []), stop);
        }
        catch (DbUpdateException failure) when (db.IsDuplicateKey(failure))
        {
            // The same piece, sent twice at once: one of them is here.
        }

        return received + bytes.Length < total ? (null, new PhotoArrival(received + bytes.Length, false), null) : await JoinAsync(db, id, sha256, stop);
    }

    /// <summary>Its pieces are needed no more: it was taken, or it can never be.</summary>
    public async Task ForgetAsync(ReportId id, string sha256, CancellationToken stop)
    {
        await using var db = await factory.CreateDbContextAsync(stop);
        db.PhotoParts.RemoveRange(await db.PhotoParts.Where(part => part.Report == id && part.Sha256 == sha256).ToArrayAsync(stop));
        try
        {
            await db.SaveAsync(new Writing(Actor.Installation, clock.GetCurrentInstant(), []), stop);
        }
        catch (DbUpdateConcurrencyException)
        {
            // Another request of the same photo was faster.
        }
    }

    /// <summary>The report, for the person who sent it.</summary>
    public static async Task<(Report? Report, Answer? No)> ReportAsync(DrainboardDb db, Actor actor, ReportId id, CancellationToken stop)
    {
        var report = await db.Reports.SingleOrDefaultAsync(report => report.Id == id, stop);
        return report is null ? (null, new Answer.NotFound("There is no such report. Send the report first, then its photos."))
            : report.Reporter != actor.Person ? (null, new Answer.NotAllowed(new Refusal("not-your-report", "Only the person who sent the report adds photos to it.")))
            : (report, null);
    }

    private async Task<(byte[]? Whole, PhotoArrival? Arrival, Answer? No)> JoinAsync(DrainboardDb db, ReportId id, string sha256, CancellationToken stop)
    {
        var parts = await db.PhotoParts.AsNoTracking().Where(part => part.Report == id && part.Sha256 == sha256).OrderBy(part => part.Offset).Select(part => part.Bytes).ToArrayAsync(stop);
        var whole = parts.SelectMany(part => part).ToArray();
        if (Convert.ToHexStringLower(SHA256.HashData(whole)) == sha256)
        {
            return (whole, null, null);
        }

        await ForgetAsync(id, sha256, stop);
        return (null, new PhotoArrival(0, false), null);
    }

    private static async Task<long> ReceivedAsync(DrainboardDb db, ReportId id, string sha256, CancellationToken stop)
    {
        var parts = await db.PhotoParts.AsNoTracking().Where(part => part.Report == id && part.Sha256 == sha256).OrderBy(part => part.Offset).Select(part => new { part.Offset, part.Length }).ToArrayAsync(stop);
        long received = 0;
        foreach (var part in parts.TakeWhile(part => part.Offset == received))
        {
            received += part.Length;
        }

        return received;
    }

    private static async Task<bool> HasAsync(DrainboardDb db, ReportId id, string sha256, CancellationToken stop) =>
        await db.Commands.AnyAsync(command => command.Id == PhotoWish.IdOf(id, sha256), stop);
}
