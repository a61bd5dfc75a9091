using Drainboard.Domain;
using Drainboard.Domain.Accounts;
using Drainboard.Domain.Defects;
using Drainboard.Domain.Recurrence;
using Drainboard.Web.Features.Door;
using Drainboard.Web.Features.Items;

namespace Drainboard.Web.Features.Defects;

public sealed record SortRequest(Symptom Symptom, LeakAnswer Leak, string? LeakWhere = null, LogEntry? Log = null);

public sealed class SortHandler(ItemDoor door)
{
    public Task<Answer> HandleAsync(Call call, DefectId id, SortRequest request, CancellationToken stop) =>
        door.ChangeAsync(call, Act.Sort, id, request, item =>
        {
            if (request.Log?.WhyNot(item.Attempt.Now) is { } bad)
            {
                return bad;
            }

            if (request.Log is { } log && item.Tail.WhyNotAt(log.LoggedAt) is { } early)
            {
                return early;
            }

            return item.Defect.Sort(request.Symptom, request.Leak, request.LeakWhere ?? "", request.Log?.ToReference(), item.Installation.Mode);
        }, stop);
}
