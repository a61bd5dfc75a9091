using Drainboard.Domain;
using Drainboard.Domain.Accounts;
using Drainboard.Domain.Fleet;
using Drainboard.Domain.Handovers;
using Drainboard.Web.Features.Accounts;
using Drainboard.Web.Features.Door;
using Drainboard.Web.Features.Fleet;
using Microsoft.EntityFrameworkCore;

namespace Drainboard.Web.Features.Handovers;

/// <param name="Id">The handover's id, made on the device; the idempotency key.</param>
/// <param name="Hash">Of what the lead saw.</param>
/// <param name="SigningCode">The signer's own second secret.</param>
public sealed record SignHandoverRequest(Guid Id, string Hash, string? Notes = null, string? SigningCode = null);

public sealed class SignHandoverHandler(OneDoor door, SigningCodes codes, LayoutCatalog layouts)
{
    public Task<Answer> HandleAsync(Call call, string code, SignHandoverRequest request, CancellationToken stop) =>
        door.ChangeAsync(call, Act.HandOver, new { code, request = request with { SigningCode = null } }, attempt => SignAsync(attempt, code, request), stop);

    private async Task<Answer> SignAsync(Attempt attempt, string text, SignHandoverRequest request)
    {
        var station = StationCode.TryParse(text, out var code) ? await attempt.Db.Stations.AsNoTracking().SingleOrDefaultAsync(station => station.Code == code, attempt.Stop) : null;
        if (station is null)
        {
            return new Answer.NotFound($"There is no station \"{text}\".");
        }

        if (AtStation.WhyNot(attempt.Actor, code) is { } no)
        {
            return new Answer.NotAllowed(no);
        }

        var (from, content) = await new HandoverDraft(attempt.Db, layouts, station, attempt.Now).WriteAsync(attempt.Stop);
        if (await codes.WhyNotAsync(attempt.Actor, request.SigningCode, attempt.Stop) is { } unsigned)
        {
            return unsigned;
        }

        var decision = Handover.Sign(new HandoverId(request.Id), code, from, content, request.Hash, request.Notes ?? "", attempt.Actor, attempt.Now, out var made);
        if (decision is Decision.Refused refused)
        {
            return refused.Refusal;
        }

        attempt.Db.Add(made!);
        attempt.Record(((Decision.Done)decision).Fact);
        return attempt.Done(request.Id, () => made!.Version, "Handed over.");
    }
}
