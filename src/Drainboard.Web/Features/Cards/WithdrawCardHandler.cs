using Drainboard.Domain;
using Drainboard.Domain.Accounts;
using Drainboard.Domain.Records;
using Drainboard.Web.Features.Door;
using Microsoft.EntityFrameworkCore;

namespace Drainboard.Web.Features.Cards;

/// <summary>Takes a card out of use. It stays readable, and a later version may be published.</summary>
public sealed class WithdrawCardHandler(OneDoor door)
{
    public Task<Answer> HandleAsync(Call call, string code, CancellationToken stop) =>
        door.ChangeAsync(call, Act.ManageCards, new { withdraw = code, call.SeenVersion }, async attempt =>
        {
            var card = await attempt.Db.WorkCards.SingleOrDefaultAsync(card => card.Code == code && card.IsCurrent, attempt.Stop);
            if (card is null)
            {
                return new Answer.NotFound($"There is no work card \"{code}\" in use.");
            }

            if (call.SeenVersion != card.Version)
            {
                return new Answer.Stale(card.Version);
            }

            card.Withdraw();
            attempt.Record(new Fact(ChainKey.Operator, "card.withdrawn", card.Id.Value, $"Work card {card.VersionWords} was withdrawn.").With("card", code).With("cardVersion", card.Version));
            return attempt.Done(card.Id.Value, () => card.Version, "Withdrawn.");
        }, stop);
}
