using System.Security.Cryptography;
using Drainboard.Data.Records;
using Drainboard.Domain;
using Drainboard.Domain.Accounts;
using Drainboard.Domain.Defects;
using Drainboard.Domain.Fleet;
using Drainboard.Domain.PlannedChecks;
using Drainboard.Domain.Records;
using Drainboard.Domain.Turns;
using Drainboard.Web.Features.Defects;
using Drainboard.Web.Features.Door;
using Drainboard.Web.Features.Fleet;
using Drainboard.Web.Features.Items;
using Drainboard.Web.Hosting;
using Microsoft.EntityFrameworkCore;
using NodaTime;

namespace Drainboard.Web.Features.PlannedChecks;

/// <param name="Id">Made on the device; the idempotency key, and the id of the report of a finding.</param>
/// <param name="Check">Code of the check.</param>
/// <param name="Position">The fixture; left out for a check of the whole aircraft.</param>
/// <param name="DoneAt">By the device; left out: now.</param>
/// <param name="Number">The version of the check that was done; left out: the newest.</param>
/// <param name="Finding">With a finding, and only with one.</param>
public sealed record RecordCheckRequest(Guid Id, string Check, string? Position = null, CheckOutcome Outcome = CheckOutcome.Good, Instant? DoneAt = null, FindingRequest? Finding = null, int? Number = null);

/// <param name="Position">Where it was found; left out: at the fixture that was checked, or where it is written up already.</param>
/// <param name="AddTo">The defect that it is already written up as.</param>
public sealed record FindingRequest(Symptom Symptom, LeakAnswer Leak, string? LeakWhere = null, string? Words = null, string? Position = null, Guid? AddTo = null);

/// <summary>Records a planned check; something found becomes a report in the same transaction.</summary>
public sealed class RecordCheckHandler(OneDoor door, LayoutCatalog layouts)
{
    /// <param name="photo">The bytes of a photo of a finding, or null.</param>
    public Task<Answer> HandleAsync(Call call, string registration, RecordCheckRequest request, byte[]? photo, CancellationToken stop)
    {
        var sent = photo is null ? null : Convert.ToHexStringLower(SHA256.HashData(photo));
        return door.ChangeAsync(call, Act.DoCheck, new { registration, request, sha256 = sent }, attempt => RecordAsync(attempt, registration, request, photo), stop);
    }

    private async Task<Answer> RecordAsync(Attempt attempt, string registration, RecordCheckRequest request, byte[]? photo)
    {
        var at = request.DoneAt is { } told ? MicrosecondClock.Cut(told) : attempt.Now;
        var (tail, trouble) = await TailToCheck.FindAsync(attempt, registration, at);
        if (tail is null)
        {
            return trouble!;
        }

        var layout = await layouts.GetAsync(tail.Layout, attempt.Stop);
        if (await CheckAsync(attempt, request, at) is not { } check)
        {
            return new Refusal("no-such-check", $"There is no planned check \"{request.Check}\". The walk-round of {tail.Registration} lists what is due.");
        }

        if (request.Finding is not null && Permissions.WhyNot(attempt.Actor, Act.Report, tail.Registration, []) is { } mayNot)
        {
            return new Answer.NotAllowed(mayNot);
        }

        if (!string.IsNullOrEmpty(request.Position) && !Position.TryParse(request.Position, out _))
        {
            return new Refusal("no-such-position", $"\"{request.Position}\" is not a position code. Choose the fixture from the list.");
        }

        var position = string.IsNullOrEmpty(request.Position) ? (Position?)null : Position.Parse(request.Position);
        var report = request.Finding is null ? (ReportId?)null : new ReportId(request.Id);
        var decision = CheckDone.Record(new CheckDoneId(request.Id), tail, layout, check, position, request.Outcome, report, at, attempt.Actor, attempt.Now, out var made);
        if (decision is Decision.Refused refused)
        {
            return refused.Refusal;
        }

        var found = request.Finding is { } finding ? await TakeInAsync(attempt, tail, layout, check, finding, report!.Value, position, made!.At, photo) : null;
        if (found is not null and not Answer.Done)
        {
            return found;
        }

        attempt.Db.Add(made!);
        await TailToCheck.MarkNewestAsync(attempt.Db, made!, attempt.Stop);
        attempt.Record(((Decision.Done)decision).Fact);
        return found is Answer.Done received ? received with { Id = request.Id } : attempt.Done(request.Id, () => made!.Version, $"{check.Terms.Title}: {request.Outcome.Words()}.");
    }

    /// <summary>The version that was done. One that is asked for no more is still what was asked for before that was said.</summary>
    private static async Task<PlannedCheck?> CheckAsync(Attempt attempt, RecordCheckRequest request, Instant at)
    {
        var versions = await attempt.Db.PlannedChecks.AsNoTracking().Where(row => row.Code == request.Check).OrderByDescending(row => row.Number).ToArrayAsync(attempt.Stop);
        var newest = versions.FirstOrDefault(row => row.SavedAt <= at) ?? versions.LastOrDefault();
        return newest is { IsRetired: true } ? newest : versions.FirstOrDefault(row => row.Number == request.Number) ?? (request.Number is null ? newest : null);
    }

    private static async Task<Answer> TakeInAsync(Attempt attempt, Tail tail, CabinLayout layout, PlannedCheck check, FindingRequest finding, ReportId id, Position? checkedAt, Instant at, byte[]? photo)
    {
        var (kept, unfit) = photo is null ? (null, null) : await PhotoRules.TakeAsync(photo, attempt.Stop);
        if (unfit is not null)
        {
            return unfit;
        }

        if (!string.IsNullOrEmpty(finding.Position) && !Position.TryParse(finding.Position, out _))
        {
            return new Refusal("no-such-position", $"\"{finding.Position}\" is not a position code. Choose the fixture from the list.");
        }

        if (finding.Symptom == Symptom.Other && string.IsNullOrWhiteSpace(finding.Words))
        {
            return new Refusal("say-what", "You chose \"something else\": say what you see, in a few words.");
        }

        var known = finding.AddTo is { } same ? await attempt.Db.Defects.AsNoTracking().SingleOrDefaultAsync(row => row.Id == new DefectId(same) && row.Tail == tail.Id && row.State != DefectState.Closed, attempt.Stop) : null;
        var where = Position.TryParse(finding.Position, out var said) ? said : checkedAt ?? known?.Position;
        if (known is not null && (known.Position != where || known.Symptom != finding.Symptom))
        {
            return new Refusal("not-the-same", $"Number {known.Number} is written up as \"{known.Symptom.Words().ToLowerInvariant()}\" at {known.Position}. Say the same of it, or that this is new.");
        }

        if (where is not { } position)
        {
            return new Refusal("finding-where", "Say at which fixture it was found: choose the nearest from the list.");
        }

        var sighting = new Sighting(position, finding.Symptom, finding.Leak, finding.LeakWhere?.Trim() ?? "", FlightPhase.OnGround, $"{check.Terms.Title}: {(string.IsNullOrWhiteSpace(finding.Words) ? "found on the walk-round" : finding.Words.Trim())}", at, null, null);
        var (answer, report) = await ReportIntake.TakeInAsync(attempt, tail, layout, sighting, id, finding.AddTo, null);
        if (report is not null && kept is not null)
        {
            var sha256 = Convert.ToHexStringLower(SHA256.HashData(kept));
            if (!await attempt.Db.Photos.AnyAsync(row => row.Sha256 == sha256, attempt.Stop))
            {
                attempt.Db.Add(new Photo(sha256, PhotoRules.StoredKind, kept, attempt.Now));
            }

            report.Attach(sha256);
            attempt.Record(new Fact(ChainKey.For(tail.Id), "report.photo", report.Defect.Value, "A photo was added to the report.").With("report", id.Value).With("sha256", sha256));
        }

        return answer;
    }
}
