using System.Security.Cryptography;
using Drainboard.Data.Records;
using Drainboard.Domain;
using Drainboard.Domain.Accounts;
using Drainboard.Domain.Defects;
using Drainboard.Domain.Records;
using Drainboard.Web.Features.Door;
using Microsoft.EntityFrameworkCore;

namespace Drainboard.Web.Features.Defects;

/// <summary>Stores a photo under the SHA-256 of its bytes and attaches it to a report. Sent twice, it is there once.</summary>
public sealed class AttachPhotoHandler(OneDoor door)
{
    public const int LargestBytes = 10 * 1024 * 1024;
    private const int Retries = 5;

    public async Task<Answer> HandleAsync(Call call, ReportId id, byte[] bytes, CancellationToken stop)
    {
        var sha256 = Convert.ToHexStringLower(SHA256.HashData(bytes));
        var answer = await TryAsync();
        for (var again = 0; again < Retries && answer is Answer.Stale or Answer.OtherWish; again++)
        {
            // Another photo of the same report, or the same photo of another, was stored at the same moment.
            answer = await TryAsync();
        }

        return answer;

        Task<Answer> TryAsync() => door.ChangeAsync(call, Act.Report, new { id = id.Value, sha256 }, attempt => AttachAsync(attempt, id, bytes, sha256), stop);
    }

    /// <summary>The kind of picture by its first bytes, whatever its name says; null when it is none that we take.</summary>
    public static string? KindOf(ReadOnlySpan<byte> bytes) =>
        bytes.StartsWith((ReadOnlySpan<byte>)[0xFF, 0xD8, 0xFF]) ? "image/jpeg"
        : bytes.StartsWith((ReadOnlySpan<byte>)[0x89, 0x50, 0x4E, 0x47, 0x0D, 0x0A, 0x1A, 0x0A]) ? "image/png"
        : bytes.Length > 12 && bytes.StartsWith("RIFF"u8) && bytes[8..].StartsWith("WEBP"u8) ? "image/webp"
        : null;

    private static async Task<Answer> AttachAsync(Attempt attempt, ReportId id, byte[] bytes, string sha256)
    {
        var report = await attempt.Db.Reports.SingleOrDefaultAsync(report => report.Id == id, attempt.Stop);
        if (report is null)
        {
            return new Answer.NotFound("There is no such report. Send the report first, then its photos.");
        }

        if (report.Reporter != attempt.Actor.Person)
        {
            return new Answer.NotAllowed(new Refusal("not-your-report", "Only the person who sent the report adds photos to it."));
        }

        if (bytes.Length is 0 or > LargestBytes)
        {
            return new Refusal("photo-size", $"A photo is up to {LargestBytes / 1024 / 1024} MB; this one has {bytes.Length / 1024.0 / 1024.0:0.0} MB. Take it at a smaller size.");
        }

        if (KindOf(bytes) is not { } kind)
        {
            return new Refusal("photo-kind", "This is not a JPEG, PNG or WebP picture. Send a photo.");
        }

        if (!await attempt.Db.Photos.AnyAsync(photo => photo.Sha256 == sha256, attempt.Stop))
        {
            attempt.Db.Photos.Add(new Photo(sha256, kind, bytes, attempt.Now));
        }

        if (report.Attach(sha256))
        {
            attempt.Record(new Fact(ChainKey.For(report.Tail), "report.photo", report.Defect.Value, "A photo was added to the report.").With("report", id.Value).With("sha256", sha256));
        }

        return attempt.Done(id.Value, () => 0, "Photo received.");
    }
}
