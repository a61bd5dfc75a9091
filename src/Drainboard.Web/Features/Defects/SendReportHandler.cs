using Drainboard.Domain;
using Drainboard.Domain.Accounts;
using Drainboard.Domain.Defects;
using Drainboard.Domain.Fleet;
using Drainboard.Domain.Recurrence;
using Drainboard.Web.Features.Door;
using Drainboard.Web.Features.Fleet;
using Drainboard.Web.Features.Items;
using Drainboard.Web.Hosting;
using Microsoft.EntityFrameworkCore;
using NodaTime;

namespace Drainboard.Web.Features.Defects;

/// <summary>A report as it is sent. The id is made on the device and is the idempotency key for ever.</summary>
public sealed record SendReportRequest(Guid Id, string Tail, string Position, Symptom Symptom, LeakAnswer Leak, Instant SeenAt, string? LeakWhere = null, FlightPhase Phase = FlightPhase.NotSaid, string? Words = null, Instant? SavedAt = null, LogEntry? Log = null);

/// <summary>Takes a report in: it is stored, a defect stands as reported, and the fixture's history says whether it is a repeat.</summary>
public sealed class SendReportHandler(OneDoor door, LayoutCatalog layouts)
{
    public Task<Answer> HandleAsync(Call call, SendReportRequest request, CancellationToken stop) =>
        door.ChangeAsync(call, Act.Report, request, attempt => TakeInAsync(attempt, request), stop);

    private async Task<Answer> TakeInAsync(Attempt attempt, SendReportRequest request)
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

        if (request.Log?.WhyNot(attempt.Now) is { } bad)
        {
            return bad;
        }

        var sighting = new Sighting(position, request.Symptom, request.Leak, request.LeakWhere?.Trim() ?? "", request.Phase, request.Words?.Trim() ?? "", MicrosecondClock.Cut(request.SeenAt), request.SavedAt is { } saved ? MicrosecondClock.Cut(saved) : null, request.Log?.ToReference());
        if (sighting.WhyNot(await layouts.GetAsync(tail.Layout, attempt.Stop)) is { } refusal)
        {
            return refusal;
        }

        if ((tail.WhyNotAt(sighting.SeenAt) ?? (sighting.Log is { } log ? tail.WhyNotAt(log.LoggedAt) : null)) is { } early)
        {
            return early;
        }

        var defect = new Defect(new DefectId(NewId.At(attempt.Now)), tail.Id, sighting, attempt.Now);
        var report = new Report(new ReportId(request.Id), defect.Id, tail.Id, sighting, attempt.Actor.Person, attempt.Actor.Name, attempt.Now);
        db.Add(defect);
        db.Add(report);
        var installation = await db.Installations.AsNoTracking().SingleAsync(attempt.Stop);
        await RepeatJudge.JudgeAsync(db, defect, RepeatRule.Find(installation.RepeatRule), attempt.Stop);
        attempt.Record(ReportFact.Of(report, defect));
        return attempt.Done(defect.Id.Value, () => defect.Version, "Report received.");
    }
}
