using Drainboard.Data;
using Drainboard.Domain.Accounts;
using Drainboard.Domain.Records;
using Microsoft.EntityFrameworkCore;

namespace Drainboard.Web.Features.SetUp;

public sealed record InstallationView(string OperatorName, bool IsDemo, LogMode Mode, string ApprovalReference, string Policy, string RepeatRule, IReadOnlyList<Role> PasskeyRoles, long Version);

public sealed class InstallationQuery(IDbContextFactory<DrainboardDb> factory)
{
    public async Task<InstallationView> ReadAsync(CancellationToken stop)
    {
        await using var db = await factory.CreateDbContextAsync(stop);
        var row = await db.Installations.AsNoTracking().SingleAsync(stop);
        return new InstallationView(row.OperatorName, row.IsDemo, row.Mode, row.ApprovalReference, row.PolicyName, row.RepeatRule, row.PasskeyRoles, row.Version);
    }
}
