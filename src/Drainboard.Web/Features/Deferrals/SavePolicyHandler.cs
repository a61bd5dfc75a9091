using Drainboard.Domain;
using Drainboard.Domain.Accounts;
using Drainboard.Domain.Deferrals;
using Drainboard.Domain.Records;
using Drainboard.Web.Features.Door;

namespace Drainboard.Web.Features.Deferrals;

/// <summary>The operator's own policy, every field: what is null stays to be set. <paramref name="Source"/> is the operator's document that says so.</summary>
/// <param name="OperatorZone">An IANA name, where days are counted in the operator's own zone.</param>
public sealed record SavePolicyRequest(
    string Title, string Source, PolicyDays Days, TimeBase? TimeBase, bool? ExcludesDayOfDiscovery, CalendarStart? CalendarStart, ClockStart StartsFrom, CountedUnitStart? CountedUnitStart, ExpiryTest? ExpiryTest,
    PerCategory Extendable, int? MaxExtensions, int? MaxExtensionDays, NotifyRule? NotifyWithin, bool? ApprovalBeforeA, string? OperatorZone = null);

/// <summary>Makes the next version of an operator's policy. Stored versions never change, and running deferrals keep theirs.</summary>
public sealed class SavePolicyHandler(OneDoor door)
{
    private const int LongestName = 24;

    public Task<Answer> HandleAsync(Call call, string name, SavePolicyRequest request, CancellationToken stop) =>
        door.ChangeAsync(call, Act.ManagePolicies, new { name, request }, async attempt =>
        {
            if (name.Length is 0 or > LongestName || !name.All(letter => char.IsAsciiLetterOrDigit(letter) || letter == '-') || DeferralPolicies.Find(name.ToLowerInvariant()) is not null)
            {
                return new Refusal("policy-name", $"A policy of your own has a name of letters, digits and hyphens, up to {LongestName}, that no preset has.");
            }

            if (request.Title.Trim().Length is 0 or > 80 || request.Source.Trim().Length is 0 or > 200)
            {
                return new Refusal("policy-source", "Give it a title (up to 80 characters) and the document that says so (up to 200): every clock cites it.");
            }

            var newest = await PolicyCatalog.NewestAsync(attempt.Db, name, attempt.Stop);
            if (call.SeenVersion is { } seen && seen != (newest?.Number ?? Call.SawNone))
            {
                return new Answer.Stale(newest?.Number ?? 0);
            }

            var policy = Terms(name, (newest?.Number ?? 0) + 1, request);
            if (policy.WhyNot() is { } no)
            {
                return no;
            }

            attempt.Db.Policies.Add(new OperatorPolicy(NewId.At(attempt.Now), policy, attempt.Now));
            attempt.Record(new Fact(ChainKey.Operator, "policy.saved", Guid.Empty, $"Deferral policy {name} version {policy.Version} was made. Running deferrals keep the version that they began under.").With("policy", name).With("version", policy.Version).With("source", request.Source.Trim()));
            return attempt.Done(Guid.Empty, () => policy.Version, $"Policy {name} version {policy.Version} saved.");
        }, stop);

    private static DeferralPolicy Terms(string name, int version, SavePolicyRequest request)
    {
        var made = new DeferralPolicy(
            name, version, request.Title.Trim(), request.Days, request.TimeBase, request.TimeBase == TimeBase.OperatorZone ? request.OperatorZone?.Trim() ?? "" : "", request.ExcludesDayOfDiscovery, request.CalendarStart, request.StartsFrom, request.CountedUnitStart, request.ExpiryTest,
            request.Extendable, request.MaxExtensions, request.MaxExtensionDays, request.NotifyWithin, request.ApprovalBeforeA, []);
        var set = PolicyWords.Of(made).Where(line => line.Value != PolicyWords.SetByOperator).Select(line => new PolicySource(line.Field, request.Source.Trim(), "the operator"));
        return made with { Sources = [.. set] };
    }
}
