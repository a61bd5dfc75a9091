using Drainboard.Data;
using Drainboard.Domain.Accounts;
using Microsoft.EntityFrameworkCore;
using NodaTime;

namespace Drainboard.Web.Features.Warnings;

public sealed record FollowView(Guid Id, string? Tail, string? Station, IReadOnlyList<int> LeadHours, bool ByMail, bool Reports);

public sealed record FeedView(Guid Id, string Name, string? Station, Instant At, Instant? RevokedAt);

/// <summary>What a person follows, the calendar addresses they made, and whether mail can reach them.</summary>
public sealed record FollowsView(IReadOnlyList<FollowView> Follows, IReadOnlyList<FeedView> Feeds, string? Address, bool MailIsSetUp);

public sealed class FollowsQuery(IDbContextFactory<DrainboardDb> factory, WarningMailer mailer)
{
    public async Task<FollowsView> ReadAsync(PersonId me, CancellationToken stop)
    {
        await using var db = await factory.CreateDbContextAsync(stop);
        var follows = await db.Follows.AsNoTracking().Where(row => row.Person == me).OrderBy(row => row.At).ToArrayAsync(stop);
        var marks = await db.Tails.AsNoTracking().ToDictionaryAsync(tail => tail.Id, tail => tail.Registration.Value, stop);
        var feeds = await db.CalendarFeeds.AsNoTracking().Where(row => row.Person == me).OrderBy(row => row.At).ToArrayAsync(stop);
        var address = await db.Users.Where(person => person.Id == me.Value).Select(person => person.Email).SingleOrDefaultAsync(stop);
        return new FollowsView(
            [.. follows.Select(row => new FollowView(row.Id, row.Tail is { } tail ? marks.GetValueOrDefault(tail) : null, row.Station?.Value, row.LeadHours, row.ByMail, row.Reports))],
            [.. feeds.Select(row => new FeedView(row.Id, row.Name, row.Station?.Value, row.At, row.RevokedAt))], string.IsNullOrEmpty(address) ? null : address, mailer.IsSetUp);
    }
}
