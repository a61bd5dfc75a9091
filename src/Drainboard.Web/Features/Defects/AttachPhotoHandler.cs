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
    public Task<Answer> HandleAsync(Call call, ReportId id, byte[] bytes, CancellationToken stop)
    {
        var sha256 = Convert.ToHexStringLower(SHA256.HashData(bytes));
        return door.ChangeAsync(call, Act.Report, new { id = id.Value, sha256 }, attempt => AttachAsync(attempt, id, bytes, sha256), stop);
    }

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

        if (PhotoRules.WhyNot(bytes) is { } unfit)
        {
            return unfit;
        }

        if (!await attempt.Db.Photos.AnyAsync(photo => photo.Sha256 == sha256, attempt.Stop))
        {
            attempt.Db.Photos.Add(new Photo(sha256, PhotoRules.KindOf(bytes)!, bytes, attempt.Now));
        }

        if (report.Attach(sha256))
        {
            attempt.Record(new Fact(ChainKey.For(report.Tail), "report.photo", report.Defect.Value, "A photo was added to the report.").With("report", id.Value).With("sha256", sha256));
        }

        return attempt.Done(id.Value, () => 0, "Photo received.");
    }
}
