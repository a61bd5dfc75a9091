using System.Security.Cryptography;
using Drainboard.Data.Records;
using Drainboard.Domain;
using Drainboard.Domain.Accounts;
using Drainboard.Domain.Defects;
using Drainboard.Domain.Records;
using Drainboard.Web.Features.Door;
using Microsoft.EntityFrameworkCore;

namespace Drainboard.Web.Features.Defects;

/// <summary>Encodes a photo anew, stores it under the SHA-256 of what is kept and attaches it to a report. Sent twice, it is there once.</summary>
public sealed class AttachPhotoHandler(OneDoor door)
{
    public Task<Answer> HandleAsync(Call call, ReportId id, byte[] bytes, CancellationToken stop)
    {
        var sha256 = Convert.ToHexStringLower(SHA256.HashData(bytes));
        return door.ChangeAsync(call, Act.Report, new { id = id.Value, sha256 }, attempt => AttachAsync(attempt, id, bytes, sha256), stop);
    }

    private static async Task<Answer> AttachAsync(Attempt attempt, ReportId id, byte[] bytes, string sha256)
    {
        var (report, no) = await PhotoParts.ReportAsync(attempt.Db, attempt.Actor, id, attempt.Stop);
        if (report is null)
        {
            return no!;
        }

        if (report.Photos.Count >= Report.MostPhotos)
        {
            return new Refusal("too-many-photos", $"A report takes {Report.MostPhotos} photos; this one has them.");
        }

        var (kept, unfit) = await PhotoRules.TakeAsync(bytes, attempt.Stop);
        if (kept is null)
        {
            return unfit!;
        }

        var address = Convert.ToHexStringLower(SHA256.HashData(kept));

        if (!await attempt.Db.Photos.AnyAsync(photo => photo.Sha256 == address, attempt.Stop))
        {
            attempt.Db.Photos.Add(new Photo(address, PhotoRules.StoredKind, kept, attempt.Now));
        }

        if (report.Attach(address))
        {
            attempt.Record(new Fact(ChainKey.For(report.Tail), "report.photo", report.Defect.Value, "A photo was added to the report.").With("report", id.Value).With("sha256", address).With("sent", sha256));
        }

        return attempt.Done(id.Value, () => 0, "Photo received.");
    }
}
