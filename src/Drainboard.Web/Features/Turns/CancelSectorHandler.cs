using Drainboard.Domain.Accounts;
using Drainboard.Domain.Records;
using Drainboard.Web.Features.Deferrals;
using Drainboard.Web.Features.Door;
using Drainboard.Domain;
using Microsoft.EntityFrameworkCore;

namespace Drainboard.Web.Features.Turns;

/// <summary>A planned flight will not be flown. What was flown is corrected, never taken away.</summary>
public sealed class CancelSectorHandler(OneDoor door)
{
    public Task<Answer> HandleAsync(Call call, string key, CancellationToken stop) =>
        door.ChangeAsync(call, Act.ChangeSectors, new { cancel = key }, async attempt =>
        {
            var sector = await attempt.Db.Sectors.SingleOrDefaultAsync(row => row.Key == key, attempt.Stop);
            if (sector is null)
            {
                return new Answer.NotFound($"There is no sector \"{key}\".");
            }

            if (sector.Flown)
            {
                return new Refusal("flown", "This sector was flown. Correct its values instead.");
            }

            attempt.Db.Sectors.Remove(sector);
            attempt.Record(new Fact(ChainKey.For(sector.Tail), "sector.cancelled", sector.Id.Value, $"Flight {sector.From} to {sector.To} will not be flown.").With("key", key).With("offBlock", sector.OffBlock));
            foreach (var moved in await ClockKeeper.RederiveAsync(attempt.Db, [sector.Tail], attempt.Stop))
            {
                attempt.Record(moved);
            }

            return attempt.Done(sector.Id.Value, () => sector.Version, "Sector cancelled.");
        }, stop);
}
