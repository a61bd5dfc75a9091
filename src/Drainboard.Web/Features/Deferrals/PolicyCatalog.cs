using Drainboard.Data;
using Drainboard.Domain.Deferrals;
using Microsoft.EntityFrameworkCore;

namespace Drainboard.Web.Features.Deferrals;

/// <summary>Policies by name: the presets, and the newest version of each of the operator's own.</summary>
internal static class PolicyCatalog
{
    /// <exception cref="InvalidOperationException">No policy has this name; the door lets none be chosen that has not.</exception>
    public static async Task<DeferralPolicy> FindAsync(DrainboardDb db, string name, CancellationToken stop) =>
        await FindOrNullAsync(db, name, stop) ?? throw new InvalidOperationException($"There is no policy \"{name}\".");

    public static async Task<DeferralPolicy?> FindOrNullAsync(DrainboardDb db, string name, CancellationToken stop) =>
        DeferralPolicies.Find(name) ?? (await NewestAsync(db, name, stop))?.Terms;

    public static async Task<OperatorPolicy?> NewestAsync(DrainboardDb db, string name, CancellationToken stop) =>
        await db.Policies.AsNoTracking().Where(policy => policy.Name == name).OrderByDescending(policy => policy.Number).FirstOrDefaultAsync(stop);
}
