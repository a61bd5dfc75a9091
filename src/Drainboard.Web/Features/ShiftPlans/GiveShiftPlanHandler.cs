using Drainboard.Domain;
using Drainboard.Domain.Accounts;
using Drainboard.Domain.Fleet;
using Drainboard.Domain.ShiftPlans;
using Drainboard.Web.Features.Door;
using Drainboard.Web.Features.Handovers;
using Drainboard.Web.Hosting;
using Microsoft.EntityFrameworkCore;
using NodaTime;

namespace Drainboard.Web.Features.ShiftPlans;

/// <param name="Id">Made on the device; the idempotency key, and the plan's id where it is the shift's first.</param>
public sealed record GiveShiftPlanRequest(Guid Id, ShiftWish Wish, IReadOnlyList<AssignedItem> Assigned);

/// <summary>Gives a plan out: it is checked against the station as it stands now, whoever made it.</summary>
public sealed class GiveShiftPlanHandler(OneDoor door, ShiftDrafts drafts)
{
    private const int LargestPlan = 200_000;

    // A lead reads a plan before it is given out: what begins first in it may have begun by then (our choice).
    private static readonly Duration LookedAtFor = Duration.FromMinutes(20);

    public Task<Answer> HandleAsync(Call call, string code, GiveShiftPlanRequest request, CancellationToken stop) =>
        door.ChangeAsync(call, Act.PlanShift, new { code, request }, attempt => GiveAsync(call, attempt, code, request with { Wish = request.Wish with { From = MicrosecondClock.Cut(request.Wish.From), To = MicrosecondClock.Cut(request.Wish.To) } }), stop, LargestPlan);

    private async Task<Answer> GiveAsync(Call call, Attempt attempt, string text, GiveShiftPlanRequest request)
    {
        var (db, stop) = (attempt.Db, attempt.Stop);
        var station = StationCode.TryParse(text, out var code) ? await db.Stations.AsNoTracking().SingleOrDefaultAsync(station => station.Code == code, stop) : null;
        if (station is null)
        {
            return new Answer.NotFound($"There is no station \"{text}\".");
        }

        if (AtStation.WhyNot(attempt.Actor, code) is { } no)
        {
            return new Answer.NotAllowed(no);
        }

        if (StationPlan.WhyNot(request.Wish.From, request.Wish.To) is { } wrong)
        {
            return wrong;
        }

        if (request.Wish.To <= attempt.Now)
        {
            return new Refusal("shift-over", "This shift is over. Plan one that is not.");
        }

        var plan = await db.ShiftPlans.SingleOrDefaultAsync(plan => plan.Station == code && plan.From == request.Wish.From, stop);
        if (call.SeenVersion is { } seen && seen != (plan?.Version ?? Call.SawNone))
        {
            return new Answer.Stale(plan?.Version ?? 0);
        }

        var draft = await drafts.ReadAsync(db, station, request.Wish.From, request.Wish.To, request.Wish.Chance, attempt.Now - LookedAtFor, attempt.Now, stop);
        if (ShiftProblem.Read(draft, request.Wish, plan, out var problem) is { } refusal)
        {
            return refusal;
        }

        var assigned = problem!.Assignments(request.Assigned);
        if (Gone(draft, request) is { } gone)
        {
            return gone;
        }

        if (ShiftPlanCheck.Faults(problem.Problem, assigned) is [var first, ..])
        {
            return new Refusal("plan-does-not-hold", $"Something moved since this was planned: {Names(draft, first)} Plan it again; what you pinned is kept.");
        }

        if (plan is null)
        {
            plan = new StationPlan(new StationPlanId(request.Id), code, request.Wish.From);
            db.Add(plan);
        }

        var decision = plan.Give(request.Wish.To, problem.Content(assigned), attempt.Actor, attempt.Now);
        if (decision is Decision.Refused refused)
        {
            return refused.Refusal;
        }

        // One plan at a time: what another shift's plan says of this time is over.
        foreach (var other in await db.ShiftPlans.Where(other => other.Station == code && other.From != request.Wish.From && other.From < request.Wish.To && other.To > request.Wish.From).ToArrayAsync(stop))
        {
            if (other.From < request.Wish.From)
            {
                other.EndAt(request.Wish.From);
            }
            else
            {
                db.Remove(other);
            }
        }

        attempt.Record(((Decision.Done)decision).Fact);
        return attempt.Done(plan.Id.Value, () => plan.Version, "Given out. Each technician has their list.");
    }

    private static Refusal? Gone(ShiftDraft draft, GiveShiftPlanRequest request) =>
        request.Assigned.FirstOrDefault(one => draft.Items.All(item => item.Defect != one.Defect || item.WhyNot is not null)) is { } gone
            ? new Refusal("item-gone", draft.Items.FirstOrDefault(item => item.Defect == gone.Defect) is { } item ? $"{item.Tail} {item.Fixture}: {item.WhyNot} Plan it again; what you pinned is kept." : "An item is closed, or its aircraft has left. Plan it again; what you pinned is kept.")
            : null;

    private static string Names(ShiftDraft draft, string words)
    {
        foreach (var item in draft.Items)
        {
            words = words.Replace(item.Defect.ToString(), $"{item.Tail} {item.Fixture}", StringComparison.Ordinal);
        }

        foreach (var person in draft.People)
        {
            words = words.Replace(person.Person.ToString(), person.Name, StringComparison.Ordinal);
        }

        return words;
    }
}
