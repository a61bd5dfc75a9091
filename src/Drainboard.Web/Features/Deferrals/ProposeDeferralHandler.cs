using Drainboard.Domain;
using Drainboard.Domain.Accounts;
using Drainboard.Domain.Defects;
using Drainboard.Domain.Deferrals;
using Drainboard.Web.Features.Door;
using Drainboard.Web.Features.Items;
using Microsoft.EntityFrameworkCore;

namespace Drainboard.Web.Features.Deferrals;

/// <summary>A deferral as it is proposed. Numbers left out are the basis' own.</summary>
public sealed record ProposeDeferralRequest(Guid Id, Guid Basis, IReadOnlyList<int> ConditionsDone, bool PlacardFitted, int? Installed = null, int? Required = null, string? PlacardWhere = null, string? Words = null, LogEntry? Log = null);

public sealed class ProposeDeferralHandler(ItemDoor door)
{
    public Task<Answer> HandleAsync(Call call, DefectId id, ProposeDeferralRequest request, CancellationToken stop) =>
        door.ChangeAsync(call, Act.ProposeDeferral, id, request, async item =>
        {
            var attempt = item.Attempt;
            var basisId = new BasisId(request.Basis);
            var basis = await attempt.Db.Bases.AsNoTracking().SingleOrDefaultAsync(basis => basis.Id == basisId, attempt.Stop);
            if (basis is null)
            {
                return new Refusal("no-such-basis", "There is no such item. Choose one from the list.");
            }

            if (request.Log?.WhyNot(attempt.Now) is { } bad)
            {
                return bad;
            }

            var terms = new DeferralTerms(request.Installed ?? basis.Terms.Installed, request.Required ?? basis.Terms.Required, request.ConditionsDone, request.PlacardFitted, request.PlacardWhere ?? "", request.Words ?? "");
            var decision = Deferral.Propose(new DeferralId(request.Id), item.Defect, item.Fixture, item.Layout, basis, item.Policy, item.Zone, terms, request.Log?.ToReference(), item.Installation.Mode, attempt.Actor, attempt.Now, out var made);
            if (made is not null)
            {
                attempt.Db.Add(made);
            }

            return decision;
        }, stop);
}
