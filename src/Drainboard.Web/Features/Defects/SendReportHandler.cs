using Drainboard.Domain;
using Drainboard.Domain.Accounts;
using Drainboard.Domain.Defects;
using Drainboard.Domain.Fleet;
using Drainboard.Web.Features.Door;
using Drainboard.Web.Features.Fleet;
using Drainboard.Web.Features.Items;
using Drainboard.Web.Features.Turns;
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
        var db = attempt.Db;
        var tail = Registration.TryParse(request.Tail, out var mark) ? await db.Tails.AsNoTracking().SingleOrDefaultAsync(tail => tail.Registration == mark, attempt.Stop) : null;
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
        if (sighting.WhyNot(await layouts.GetAsync(tail.Layout, attempt.Stop)) is { } refusal)
        {
            return refusal;
        }

        if ((tail.WhyNotAt(sighting.SeenAt) ?? (sighting.Log is { } log ? tail.WhyNotAt(log.LoggedAt) : null)) is { } early)
        {
            return early;
        }

        var sentBy = new SendingDevice(attempt.Actor.Device, Cut(clockAtSending));
        Report Made(DefectId defect) => new(new ReportId(request.Id), defect, tail.Id, sighting, attempt.Actor.Person, attempt.Actor.Name, attempt.Now, sentBy);
        return await AddAsync(attempt, request, tail, Made) ?? Open(attempt, tail, sighting, Made);
    }

    /// <summary>Adds it to the defect that the reporter named; null where that one does not stand any more or is elsewhere, so that nothing is swallowed.</summary>
    private static async Task<Answer?> AddAsync(Attempt attempt, SendReportRequest request, Tail tail, Func<DefectId, Report> made)
    {
        var db = attempt.Db;
        var named = request.AddTo is { } id ? await db.Defects.SingleOrDefaultAsync(defect => defect.Id == new DefectId(id), attempt.Stop) : null;
        var known = named?.SameAs is { } same ? await db.Defects.SingleAsync(defect => defect.Id == same, attempt.Stop) : named;
        if (known is null)
        {
            return null;
        }

        var report = made(known.Id);
        var deferral = known.Deferral is { } carried ? await db.Deferrals.SingleAsync(row => row.Id == carried, attempt.Stop) : null;
        if (known.Add(report, deferral, attempt.Now) is not Decision.Done done)
        {
            return null;
        }

        if (deferral is { EndedAt: null })
        {
            deferral.CountFrom(known, await Flights.ForAsync(db, deferral, attempt.Stop));
        }

        db.Add(report);
        attempt.Touch(known);
        attempt.Record(ReportFact.Of(report, done.Fact));
        return attempt.Done(known.Id.Value, () => known.Version, () => $"Added to {tail.Registration} number {known.Number}.", () => $"{tail.Registration} {known.Number}");
    }

    private static Answer Open(Attempt attempt, Tail tail, Sighting sighting, Func<DefectId, Report> made)
    {
        var defect = new Defect(new DefectId(NewId.At(attempt.Now)), tail.Id, sighting, attempt.Now);
        var report = made(defect.Id);
        attempt.Db.Add(defect);
        attempt.Db.Add(report);
        attempt.Record(ReportFact.Of(report, defect));
        return attempt.Done(defect.Id.Value, () => defect.Version, () => $"Received: {tail.Registration} number {defect.Number}.", () => $"{tail.Registration} {defect.Number}");
    }

    private static Instant? Cut(Instant? at) => at is { } known ? MicrosecondClock.Cut(known) : null;
}
