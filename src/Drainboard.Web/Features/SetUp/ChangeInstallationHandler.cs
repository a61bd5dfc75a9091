using Drainboard.Domain;
using Drainboard.Domain.Accounts;
using Drainboard.Domain.Deferrals;
using Drainboard.Domain.Records;
using Drainboard.Domain.Recurrence;
using Drainboard.Web.Features.Accounts;
using Drainboard.Web.Features.Deferrals;
using Drainboard.Web.Features.Door;
using Microsoft.EntityFrameworkCore;

namespace Drainboard.Web.Features.SetUp;

/// <param name="PasskeyRoles">Whoever has one of these roles signs in with a passkey; left out, it stays as it is.</param>
/// <param name="OwnPassword">The administrator's own, where the roles change; an API key needs none.</param>
public sealed record ChangeInstallationRequest(string OperatorName, LogMode Mode, string Policy, string RepeatRule, string? ApprovalReference = null, IReadOnlyList<Role>? PasskeyRoles = null, string? OwnPassword = null);

public sealed class ChangeInstallationHandler(OneDoor door, SigningCodes codes)
{
    public Task<Answer> HandleAsync(Call call, ChangeInstallationRequest request, CancellationToken stop) =>
        door.ChangeAsync(call, Act.ChangeInstallation, request with { OwnPassword = null }, async attempt =>
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

            if (request.PasskeyRoles is { } asked && !asked.ToHashSet().SetEquals(installation.PasskeyRoles))
            {
                if (await codes.WhyNotConfirmedAsync(attempt.Actor, request.OwnPassword, "Nothing was changed.", attempt.Stop) is { } unconfirmed)
                {
                    return unconfirmed;
                }

                if (asked.Any(attempt.Actor.Roles.Contains) && attempt.Actor.KeyScopes is null && !await attempt.Db.UserPasskeys.AnyAsync(passkey => passkey.UserId == attempt.Actor.Person.Value, attempt.Stop))
                {
                    return new Refusal("no-passkey", "This would shut you out too: add a passkey of your own first, on the page with your name (Me).");
                }

                installation.AskPasskeyOf(asked);
            }

            attempt.Record(new Fact(ChainKey.Operator, "installation.changed", Guid.Empty, "The installation's rules were changed.").With("mode", request.Mode).With("approval", request.ApprovalReference).With("policy", request.Policy).With("repeatRule", request.RepeatRule).With("passkeyRoles", string.Join(",", installation.PasskeyRoles)));
            attempt.Touch(installation);
            return attempt.Done(Guid.Empty, () => installation.Version, "Saved.");
        }, stop);
}
