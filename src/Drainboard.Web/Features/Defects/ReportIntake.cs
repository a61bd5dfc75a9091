using Drainboard.Domain;
using Drainboard.Domain.Defects;
using Drainboard.Domain.Fleet;
using Drainboard.Web.Features.Door;
using Drainboard.Web.Features.Items;
using Drainboard.Web.Features.Turns;
using Microsoft.EntityFrameworkCore;
using NodaTime;

namespace Drainboard.Web.Features.Defects;

/// <summary>How a report comes in, whichever page it was written on: it is added to the defect that it names, or opens its own.</summary>
internal static class ReportIntake
{
    /// <param name="addTo">The defect that the reporter says this is; it is added there while that one stands.</param>
    /// <param name="clockAtSending">What the device's clock said as it sent; null: not known.</param>
    /// <returns>The answer, and the report where it was taken in.</returns>
    public static async Task<(Answer Answer, Report? Report)> TakeInAsync(Attempt attempt, Tail tail, CabinLayout layout, Sighting sighting, ReportId id, Guid? addTo, Instant? clockAtSending)
    {
        if ((sighting.WhyNot(layout) ?? tail.WhyNotAt(sighting.SeenAt) ?? (sighting.Log is { } log ? tail.WhyNotAt(log.LoggedAt) : null)) is { } no)
        {
            return (no, null);
        }

        var sentBy = new SendingDevice(attempt.Actor.Device, clockAtSending);
        Report Made(DefectId defect) => new(id, defect, tail.Id, sighting, attempt.Actor.Person, attempt.Actor.Name, attempt.Now, sentBy);
        return await AddAsync(attempt, tail, addTo, Made) ?? Open(attempt, tail, sighting, Made);
    }

    /// <summary>Adds it to the defect that the reporter named; null where that one does not stand any more or is elsewhere, so that nothing is swallowed.</summary>
    private static async Task<(Answer, Report?)?> AddAsync(Attempt attempt, Tail tail, Guid? addTo, Func<DefectId, Report> made)
    {
        var db = attempt.Db;
        var named = addTo is { } id ? await db.Defects.SingleOrDefaultAsync(defect => defect.Id == new DefectId(id), attempt.Stop) : null;
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
        return (attempt.Done(known.Id.Value, () => known.Version, () => $"Added to {tail.Registration} number {known.Number}.", () => $"{tail.Registration} {known.Number}"), report);
    }

    private static (Answer, Report?) Open(Attempt attempt, Tail tail, Sighting sighting, Func<DefectId, Report> made)
    {
        var defect = new Defect(new DefectId(NewId.At(attempt.Now)), tail.Id, sighting, attempt.Now);
        var report = made(defect.Id);
        attempt.Db.Add(defect);
        attempt.Db.Add(report);
        attempt.Record(ReportFact.Of(report, defect));
        return (attempt.Done(defect.Id.Value, () => defect.Version, () => $"Received: {tail.Registration} number {defect.Number}.", () => $"{tail.Registration} {defect.Number}"), report);
    }
}
