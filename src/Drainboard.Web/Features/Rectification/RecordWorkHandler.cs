using Drainboard.Domain;
using Drainboard.Domain.Accounts;
using Drainboard.Domain.Cards;
using Drainboard.Domain.Defects;
using Drainboard.Domain.Fleet;
using Drainboard.Domain.Rectification;
using Drainboard.Web.Features.Cards;
using Drainboard.Web.Features.Door;
using Drainboard.Web.Features.Items;
using Drainboard.Web.Hosting;
using NodaTime;

namespace Drainboard.Web.Features.Rectification;

/// <summary>The result of a check as it is entered.</summary>
/// <param name="Points">For a leak check: where it was looked, dry or not.</param>
public sealed record CheckEntry(bool Passed, string? Words = null, IReadOnlyList<CheckPoint>? Points = null)
{
    public Check ToCheck(Actor by, Instant now) => new(Passed, Words?.Trim() ?? "", by.Name, now, Points);
}

public sealed record RecordWorkRequest(Guid Id, Found Found, string FoundAt, string ManualReference, IReadOnlyList<string> Steps, Instant CompletedAt, int? Minutes = null, CheckEntry? OpsCheck = null, CheckEntry? LeakCheck = null);

public sealed class RecordWorkHandler(ItemDoor door)
{
    public Task<Answer> HandleAsync(Call call, DefectId id, RecordWorkRequest request, CancellationToken stop) =>
        door.ChangeAsync(call, Act.RecordWork, id, request, async item =>
        {
            var jobs = await OpenJob.UnsignedOnAsync(item.Attempt.Db, id, item.Attempt.Stop);
            if (jobs.FirstOrDefault(job => job.Job.IsRunning) is { } running && Lifecycle.WhyNot(item.Defect.State, Act.RecordWork) is null)
            {
                return (Decision)new Refusal("job-runs", $"The work card \"{running.Card.Title}\" runs here. Finish it, or leave it and say why, before the work is told in own words.");
            }

            var (actor, now) = (item.Attempt.Actor, item.Attempt.Now);
            if (!Position.TryParse(request.FoundAt, out var foundAt))
            {
                return new Refusal("no-such-position", "Say where it was found: choose a fixture from the list.");
            }

            var terms = new WorkTerms(request.Found, foundAt, request.ManualReference, request.Steps, MicrosecondClock.Cut(request.CompletedAt), request.Minutes, request.OpsCheck?.ToCheck(actor, now), request.LeakCheck?.ToCheck(actor, now)) { OutOfLimits = [.. jobs.SelectMany(job => Job.OutOfLimits(job.Card, job.Steps))] };
            var decision = WorkDone.Record(new RectificationId(request.Id), item.Defect, item.Layout, terms, actor, now, out var made);
            if (made is not null)
            {
                item.Attempt.Db.Add(made);
            }

            return decision;
        }, stop);
}
