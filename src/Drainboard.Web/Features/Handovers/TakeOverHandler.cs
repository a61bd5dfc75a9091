using Drainboard.Domain;
using Drainboard.Domain.Accounts;
using Drainboard.Domain.Fleet;
using Drainboard.Domain.Handovers;
using Drainboard.Web.Features.Accounts;
using Drainboard.Web.Features.Door;
using Microsoft.EntityFrameworkCore;

namespace Drainboard.Web.Features.Handovers;

/// <param name="Id">Made on the device; the idempotency key.</param>
/// <param name="SigningCode">The signer's own second secret.</param>
public sealed record TakeOverRequest(Guid Id, string? SigningCode = null);

public sealed class TakeOverHandler(OneDoor door, SigningCodes codes)
{
    public Task<Answer> HandleAsync(Call call, string code, Guid id, TakeOverRequest request, CancellationToken stop) =>
        door.ChangeAsync(call, Act.HandOver, new { code, handover = id, wish = request.Id }, async attempt =>
        {
            if (!StationCode.TryParse(code, out var station))
            {
                return new Answer.NotFound($"There is no station \"{code}\".");
            }

            if (AtStation.WhyNot(attempt.Actor, station) is { } no)
            {
                return new Answer.NotAllowed(no);
            }

            var key = new HandoverId(id);
            if (await attempt.Db.Handovers.SingleOrDefaultAsync(row => row.Id == key && row.Station == station, attempt.Stop) is not { } handover)
            {
                return new Answer.NotFound("There is no such handover at this station.");
            }

            if (await codes.WhyNotAsync(attempt.Actor, request.SigningCode, attempt.Stop) is { } unsigned)
            {
                return unsigned;
            }

            switch (handover.TakeOver(attempt.Actor, attempt.Now))
            {
                case Decision.Refused refused: return refused.Refusal;
                case Decision.AlreadySo already: return attempt.Done(id, () => handover.Version, already.Words);
                case Decision.Done done:
                    attempt.Record(done.Fact);
                    return attempt.Done(id, () => handover.Version, "Taken over.");
                default: throw new InvalidOperationException("A decision is done, already so or refused.");
            }
        }, stop);
}
