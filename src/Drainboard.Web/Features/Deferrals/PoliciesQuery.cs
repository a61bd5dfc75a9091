using Drainboard.Data;
using Drainboard.Domain.Deferrals;
using Microsoft.EntityFrameworkCore;

namespace Drainboard.Web.Features.Deferrals;

/// <param name="Unset">Fields that the operator has yet to set.</param>
/// <param name="Usable">Whether an installation can run under it: every field that a clock of days needs is set.</param>
public sealed record PolicyView(DeferralPolicy Policy, bool IsPreset, IReadOnlyList<string> Unset, bool Usable);

/// <summary>The presets, then the newest version of each of the operator's own, by name.</summary>
public sealed class PoliciesQuery(IDbContextFactory<DrainboardDb> factory)
{
    public async Task<IReadOnlyList<PolicyView>> ReadAsync(CancellationToken stop)
    {
        await using var db = await factory.CreateDbContextAsync(stop);
        var own = (await db.Policies.AsNoTracking().ToArrayAsync(stop)).GroupBy(policy => policy.Name).Select(versions => versions.MaxBy(policy => policy.Number)!.Terms).OrderBy(policy => policy.Name, StringComparer.Ordinal);
        return [.. DeferralPolicies.Presets.Select(policy => View(policy, true)), .. own.Select(policy => View(policy, false))];
    }

    private static PolicyView View(DeferralPolicy policy, bool isPreset) => new(policy, isPreset, policy.Unset, policy.Blocking.Count == 0);
}
