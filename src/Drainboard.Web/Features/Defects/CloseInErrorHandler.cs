using Drainboard.Domain;
using Drainboard.Domain.Accounts;
using Drainboard.Domain.Defects;
using Drainboard.Web.Features.Door;
using Drainboard.Web.Features.Items;

namespace Drainboard.Web.Features.Defects;

public sealed record CloseInErrorRequest(string Reason, LogEntry? Log = null);

public sealed class CloseInErrorHandler(ItemDoor door)
{
    public Task<Answer> HandleAsync(Call call, DefectId id, CloseInErrorRequest request, CancellationToken stop) =>
        door.ChangeAsync(call, Act.CloseInError, id, request, async item => (request.Log?.WhyNot(item.Attempt.Now) ?? await WhyNotClosed.AskAsync(item)) is { } no ? (Decision)no : item.Defect.CloseInError(request.Reason, request.Log?.ToReference(), item.Installation.Mode, item.Attempt.Now), stop);
}
