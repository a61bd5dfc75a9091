using Drainboard.Domain;
using Drainboard.Domain.Accounts;
using Drainboard.Domain.Defects;
using Drainboard.Domain.Fleet;
using Drainboard.Web.Features.Door;
using Drainboard.Web.Features.Fleet;
using Drainboard.Web.Features.Items;
using Drainboard.Web.Hosting;
using Microsoft.EntityFrameworkCore;
using NodaTime;

namespace Drainboard.Web.Features.Defects;

/// <summary>A report as it is sent. The id is made on the device and is the idempotency key for ever.</summary>
/// <param name="OffsetMinutes">How many minutes the device's own time was ahead of UTC when it was saved.</param>
/// <param name="AlsoAt">The other fixtures that do the same, by position.</param>
/// <param name="AddTo">The defect on this fixture that the reporter says this is: it is added there while that one stands, and opens its own otherwise.</param>
public sealed record SendReportRequest(Guid Id, string Tail, string Position, Symptom Symptom, LeakAnswer Leak, Instant SeenAt, string? LeakWhere = null, FlightPhase Phase = FlightPhase.NotSaid, string? Words = null, Instant? SavedAt = null, LogEntry? Log = null, int? OffsetMinutes = null, OthersToo Others = OthersToo.DidNotLook, IReadOnlyList<string>? AlsoAt = null, Guid? AddTo = null);

/// <summary>Takes a report in: it is stored, a defect stands as reported or is added to, and the fixture's history says whether it is a repeat.</summary>
public sealed class SendReportHandler(OneDoor door, LayoutCatalog layouts)
{
    /// <param name="clockAtSending">What the device's clock said as it sent. No part of the wish: it differs each time the same report is sent.</param>
    public Task<Answer> HandleAsync(Call call, SendReportRequest request, Instant? clockAtSending, CancellationToken stop) =>
        door.ChangeAsync(call, Act.Report, request, attempt => TakeInAsync(attempt, request, clockAtSending), stop);

    private async Task<Answer> TakeInAsync(Attempt attempt, SendReportRequest request, Instant? clockAtSending)
    {
        var tail = Registration.TryParse(request.Tail, out var mark) ? await attempt.Db.Tails.AsNoTracking().SingleOrDefaultAsync(tail => tail.Registration == mark, attempt.Stop) : null;
        if (tail is null)
        {
            return new Refusal("no-such-tail", $"No tail \"{request.Tail}\" is known here. Choose it from the list.");
        }

        if (Permissions.WhyNot(attempt.Actor, Act.Report, tail.Registration, []) is { } no)
        {
            return new Answer.NotAllowed(no);
        }

        if (!Position.TryParse(request.Position, out var position))
        {
            return new Refusal("no-such-position", $"\"{request.Position}\" is not a position code. Choose the fixture from the list.");
        }

        var others = (request.AlsoAt ?? []).Select(code => Position.TryParse(code, out var other) ? other : (Position?)null).ToArray();
        if (others.Contains(null))
        {
            return new Refusal("no-such-other", "One of the other fixtures is not a position code. Choose them from the list.");
        }

        if (request.Log?.WhyNot(attempt.Now) is { } bad)
        {
            return bad;
        }

        var sighting = new Sighting(position, request.Symptom, request.Leak, request.LeakWhere?.Trim() ?? "", request.Phase, request.Words?.Trim() ?? "", MicrosecondClock.Cut(request.SeenAt), Cut(request.SavedAt), request.Log?.ToReference())
        {
            Others = request.Others,
            AlsoAt = [.. others.OfType<Position>()],
            OffsetMinutes = request.OffsetMinutes,
        };
        return (await ReportIntake.TakeInAsync(attempt, tail, await layouts.GetAsync(tail.Layout, attempt.Stop), sighting, new ReportId(request.Id), request.AddTo, Cut(clockAtSending))).Answer;
    }

    private static Instant? Cut(Instant? at) => at is { } known ? MicrosecondClock.Cut(known) : null;
}
