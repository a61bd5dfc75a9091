using Drainboard.Domain;
using Drainboard.Domain.Accounts;
using Drainboard.Domain.Defects;
using Drainboard.Domain.Deferrals;
using Drainboard.Web.Features.Door;
using Drainboard.Web.Features.Items;
using Drainboard.Web.Features.Lavatories;
using Drainboard.Web.Features.Turns;
using Microsoft.EntityFrameworkCore;
using NodaTime;

namespace Drainboard.Web.Features.Deferrals;

/// <summary>A deferral as it is proposed. Numbers left out are the basis' own.</summary>
/// <param name="OnlySoiled">Whether the thing is no more than dirty or soiled: that is cleaned, not deferred as a furnishing.</param>
public sealed record ProposeDeferralRequest(Guid Id, Guid Basis, IReadOnlyList<int> ConditionsDone, bool PlacardFitted, int? Installed = null, int? Required = null, string? PlacardWhere = null, string? Words = null, LogEntry? Log = null, bool OnlySoiled = false);

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

            if (!basis.Terms.CertifyingRequired && item.Disturbed.WhyNotDefer() is { } disturbed)
            {
                return disturbed;
            }

            if (await NextSector.WhyNotWithoutAsync(item, attempt.Stop) is { } few)
            {
                return few;
            }

            var terms = new DeferralTerms(request.Installed ?? basis.Terms.Installed, request.Required ?? basis.Terms.Required, request.ConditionsDone, request.PlacardFitted, request.PlacardWhere ?? "", request.Words ?? "", request.OnlySoiled);
            var policy = await PolicyCatalog.FindAsync(attempt.Db, item.Installation.PolicyName, attempt.Stop);
            var flights = basis.Terms.CountsFlights ? await Flights.SinceAsync(attempt.Db, item.Tail.Id, Instant.Min(item.Defect.SeenAt, item.Defect.RecordedAt), attempt.Stop) : [];
            var countedFrom = await attempt.Db.Deferrals.Where(row => row.Defect == item.Defect.Id && row.BeganAt != null).MinAsync(row => row.BeganAt, attempt.Stop);
            var before = await Renewals.FindAsync(attempt.Db, item.Defect, basis, attempt.Now, attempt.Stop);
            var decision = Deferral.Propose(new DeferralId(request.Id), item.Defect, item.Fixture, item.Layout, basis, policy, item.Zone, flights, before?.Id, countedFrom, terms, request.Log?.ToReference(), item.Installation.Mode, attempt.Actor, attempt.Now, out var made);
            if (made is not null)
            {
                attempt.Db.Add(made);
                if (made.Basis.CountsFlights)
                {
                    attempt.Touch(item.Tail);
                }
            }

            return decision;
        }, stop);
}
