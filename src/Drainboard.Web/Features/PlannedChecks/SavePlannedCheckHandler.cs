using Drainboard.Domain;
using Drainboard.Domain.Accounts;
using Drainboard.Domain.PlannedChecks;
using Drainboard.Domain.Records;
using Drainboard.Web.Features.Door;
using Microsoft.EntityFrameworkCore;

namespace Drainboard.Web.Features.PlannedChecks;

/// <param name="Id">Made by the sender; the idempotency key.</param>
/// <param name="Retired">It is asked for no more.</param>
public sealed record SavePlannedCheckRequest(Guid Id, CheckTerms Terms, bool Retired = false);

/// <summary>Makes the next version of a planned check.</summary>
public sealed class SavePlannedCheckHandler(OneDoor door)
{
    public Task<Answer> HandleAsync(Call call, string code, SavePlannedCheckRequest request, CancellationToken stop) =>
        door.ChangeAsync(call, Act.ManageChecks, new { code, request }, async attempt =>
        {
            var before = await attempt.Db.PlannedChecks.AsNoTracking().Where(row => row.Code == code).OrderByDescending(row => row.Number).FirstOrDefaultAsync(attempt.Stop);
            if (call.SeenVersion != (before?.Number ?? Call.SawNone))
            {
                return before is null ? new Answer.NotFound($"There is no planned check \"{code}\" to change.")
                    : call.SeenVersion == Call.SawNone ? new Refusal("check-exists", $"There is a planned check \"{code}\" already ({before.Terms.Title}). Change that one, or choose another code.")
                    : new Answer.Stale(before.Number);
            }

            var terms = request.Terms with { Title = request.Terms.Title.Trim(), Look = request.Terms.Look.Trim(), Manual = request.Terms.Manual.Trim(), Caution = (request.Terms.Caution ?? "").Trim(), Layout = (request.Terms.Layout ?? "").Trim() };
            if (terms.Layout.Length > 0 && !await attempt.Db.Layouts.AnyAsync(row => row.Code == terms.Layout, attempt.Stop))
            {
                return new Refusal("no-such-layout", $"There is no layout \"{terms.Layout}\". Choose one from the list, or leave it empty for every layout.");
            }

            if (PlannedCheck.Save(code, terms, request.Retired, before, attempt.Actor.Name, attempt.Now, out var made) is { } no)
            {
                return no;
            }

            attempt.Db.Add(made!);
            attempt.Record(new Fact(ChainKey.Operator, "check.saved", request.Id, $"Planned check \"{made!.Terms.Title}\", version {made.Number}: {(made.IsRetired ? "asked for no more" : made.Terms.Rhythm)}.").With("check", code).With("number", made.Number).With("manual", made.Terms.Manual));
            return attempt.Done(request.Id, () => made.Number, $"Version {made.Number} is saved.");
        }, stop);
}
