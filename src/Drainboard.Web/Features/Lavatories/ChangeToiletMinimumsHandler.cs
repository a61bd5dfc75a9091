using Drainboard.Domain;
using Drainboard.Domain.Accounts;
using Drainboard.Domain.Lavatories;
using Drainboard.Domain.Records;
using Drainboard.Web.Features.Door;
using Microsoft.EntityFrameworkCore;

namespace Drainboard.Web.Features.Lavatories;

/// <summary>Replaces the operator's rules of how many toilets are in service by length of sector.</summary>
public sealed class ChangeToiletMinimumsHandler(OneDoor door)
{
    public Task<Answer> HandleAsync(Call call, IReadOnlyList<ToiletMinimum> rules, CancellationToken stop) =>
        door.ChangeAsync(call, Act.ChangeWaiting, rules, async attempt =>
        {
            if (rules.Any(rule => rule is null))
            {
                return new Refusal("empty-rule", "One of the rules is empty. Say for which sectors it is and how many toilets it asks for.");
            }

            var installation = await attempt.Db.Installations.SingleAsync(attempt.Stop);
            if (call.SeenVersion is { } seen && seen != installation.Version)
            {
                return new Answer.Stale(installation.Version);
            }

            var cleaned = rules.Select(rule => rule with { Layout = (rule.Layout ?? "").Trim() }).ToArray();
            var layouts = cleaned.Select(rule => rule.Layout).Where(layout => layout.Length > 0).Distinct().ToArray();
            var known = await attempt.Db.Layouts.Where(row => layouts.Contains(row.Code)).Select(row => row.Code).Distinct().ToArrayAsync(attempt.Stop);
            if (layouts.Except(known).FirstOrDefault() is { } missing)
            {
                return new Refusal("no-such-layout", $"There is no layout \"{missing}\". Choose one from the list, or leave it empty for every layout.");
            }

            if (installation.ChangeToiletMinimums(cleaned) is { } no)
            {
                return no;
            }

            attempt.Record(new Fact(ChainKey.Operator, "toilet-minimums.changed", Guid.Empty, cleaned.Length == 0 ? "No minimum of toilets is asked for any more." : $"Toilets in service: {string.Join("; ", cleaned.Select(rule => $"{rule.Words} ({(rule.Forbids ? "forbids the departure" : "warns")})"))}."));
            attempt.Touch(installation);
            return attempt.Done(Guid.Empty, () => installation.Version, "Saved. It holds from now on.");
        }, stop);
}
