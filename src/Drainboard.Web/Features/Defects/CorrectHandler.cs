using Drainboard.Domain;
using Drainboard.Domain.Accounts;
using Drainboard.Domain.Defects;
using Drainboard.Web.Features.Door;
using Drainboard.Web.Features.Items;
using Microsoft.EntityFrameworkCore;

namespace Drainboard.Web.Features.Defects;

/// <param name="Entry">The number of the record's entry that is corrected; left out where it is about the item as a whole.</param>
public sealed record CorrectRequest(string Words, long? Entry = null);

public sealed class CorrectHandler(ItemDoor door)
{
    public Task<Answer> HandleAsync(Call call, DefectId id, CorrectRequest request, CancellationToken stop) =>
        door.ChangeAsync(call, Act.Correct, id, request, async item =>
        {
            var subject = id.Value;
            return request.Entry is { } entry && !await item.Attempt.Db.Record.AnyAsync(row => row.Subject == subject && row.Number == entry, item.Attempt.Stop)
                ? (Decision)new Refusal("no-such-entry", $"This item has no entry {entry}. Choose one from its story.")
                : item.Defect.Correct(request.Words, request.Entry);
        }, stop);
}
