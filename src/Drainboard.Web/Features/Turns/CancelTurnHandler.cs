using Drainboard.Domain;
using Drainboard.Domain.Accounts;
using Drainboard.Domain.Records;
using Drainboard.Web.Features.Door;
using Microsoft.EntityFrameworkCore;

namespace Drainboard.Web.Features.Turns;

/// <summary>A planned stay will not take place. One that has begun is corrected, never taken away.</summary>
public sealed class CancelTurnHandler(OneDoor door)
{
    public Task<Answer> HandleAsync(Call call, string key, CancellationToken stop) =>
        door.ChangeAsync(call, Act.ChangeTurns, new { cancel = key }, async attempt =>
        {
            var turn = await attempt.Db.Turns.SingleOrDefaultAsync(row => row.Key == key, attempt.Stop);
            if (turn is null)
            {
                return new Answer.NotFound($"There is no turn \"{key}\".");
            }

            if (!attempt.Actor.Stations.Covers(turn.Station))
            {
                return new Answer.NotAllowed(new Refusal("not-your-station", $"This turn is at {turn.Station}; your account covers {attempt.Actor.Stations}."));
            }

            if (turn.OnBlocks is not null)
            {
                return new Refusal("begun", "This stay has begun. Correct its times instead.");
            }

            attempt.Db.Turns.Remove(turn);
            attempt.Record(new Fact(ChainKey.For(turn.Station), "turn.cancelled", turn.Id.Value, $"Turn at {turn.Station} will not take place.").With("key", key).With("arrives", turn.ArrivesAt));
            return attempt.Done(turn.Id.Value, () => turn.Version, "Turn cancelled.");
        }, stop);
}
