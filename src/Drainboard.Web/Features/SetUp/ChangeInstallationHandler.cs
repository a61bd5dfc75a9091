using Drainboard.Domain;
using Drainboard.Domain.Accounts;
using Drainboard.Domain.Deferrals;
using Drainboard.Domain.Records;
using Drainboard.Domain.Recurrence;
using Drainboard.Web.Features.Deferrals;
using Drainboard.Web.Features.Door;
using Microsoft.EntityFrameworkCore;

namespace Drainboard.Web.Features.SetUp;

public sealed record ChangeInstallationRequest(string OperatorName, LogMode Mode, string Policy, string RepeatRule, string? ApprovalReference = null);

public sealed class ChangeInstallationHandler(OneDoor door)
{
    public Task<Answer> HandleAsync(Call call, ChangeInstallationRequest request, CancellationToken stop) =>
        door.ChangeAsync(call, Act.ChangeInstallation, request, async attempt =>
        {
            var installation = await attempt.Db.Installations.SingleAsync(attempt.Stop);
            if (call.SeenVersion is { } seen && seen != installation.Version)
            {
                return new Answer.Stale(installation.Version);
            }

            var policy = await PolicyCatalog.FindOrNullAsync(attempt.Db, request.Policy, attempt.Stop);
            if (policy is null || RepeatRule.Presets.All(rule => rule.Name != request.RepeatRule))
            {
                return new Refusal("unknown-rule", $"Policies: {string.Join(", ", DeferralPolicies.Presets.Select(one => one.Name))}, or one of your own. Repeat rules: {string.Join(", ", RepeatRule.Presets.Select(rule => rule.Name))}.");
            }

            if (policy.Blocking is { Count: > 0 } unset && installation.PolicyName != request.Policy)
            {
                return new Refusal("set-by-operator", $"The policy \"{policy.Name}\" leaves to the operator: {string.Join(", ", unset)}. Make a policy of your own from it and set them there.");
            }

            if (installation.Change(request.OperatorName, request.Mode, request.ApprovalReference ?? "", request.Policy, request.RepeatRule) is { } no)
            {
                return no;
            }

            attempt.Record(new Fact(ChainKey.Operator, "installation.changed", Guid.Empty, "The installation's rules were changed.").With("mode", request.Mode).With("approval", request.ApprovalReference).With("policy", request.Policy).With("repeatRule", request.RepeatRule));
            attempt.Touch(installation);
            return attempt.Done(Guid.Empty, () => installation.Version, "Saved.");
        }, stop);
}
