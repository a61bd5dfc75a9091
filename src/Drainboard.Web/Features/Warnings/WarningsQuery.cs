using Drainboard.Data;
using Drainboard.Domain.Accounts;
using Microsoft.EntityFrameworkCore;
using NodaTime;

namespace Drainboard.Web.Features.Warnings;

public sealed record WarningView(Guid Id, Guid Defect, Guid? Report, int LeadHours, Instant DueAt, string Words, Instant MadeAt, Instant? SeenAt, Instant? MailedAt);

public sealed class WarningsQuery(IDbContextFactory<DrainboardDb> factory)
{
    private const int Page = 100;

    /// <summary>A person's warnings, newest first.</summary>
    public async Task<IReadOnlyList<WarningView>> ReadAsync(PersonId me, CancellationToken stop)
    {
        await using var db = await factory.CreateDbContextAsync(stop);
        var rows = await db.Warnings.AsNoTracking().Where(row => row.Person == me).OrderByDescending(row => row.MadeAt).ThenBy(row => row.Id).Take(Page).ToArrayAsync(stop);
        return [.. rows.Select(row => new WarningView(row.Id, row.Defect.Value, row.Report?.Value, row.LeadHours, row.DueAt, row.Words, row.MadeAt, row.SeenAt, row.MailedAt))];
    }

    public async Task<int> CountUnseenAsync(PersonId me, CancellationToken stop)
    {
        await using var db = await factory.CreateDbContextAsync(stop);
        return await db.Warnings.CountAsync(row => row.Person == me && row.SeenAt == null, stop);
    }
}
