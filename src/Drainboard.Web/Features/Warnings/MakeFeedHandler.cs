using Drainboard.Data;
using Drainboard.Data.Accounts;
using Drainboard.Domain;
using Drainboard.Domain.Accounts;
using Drainboard.Domain.Fleet;
using Drainboard.Domain.Records;
using Drainboard.Domain.Warnings;
using Drainboard.Web.Features.Door;
using Microsoft.EntityFrameworkCore;

namespace Drainboard.Web.Features.Warnings;

public sealed record MakeFeedRequest(Guid Id, string Name, string? Station = null);

/// <param name="Path">The address to subscribe to, on this service; null when the same wish is answered again: it is shown once.</param>
public sealed record NewFeedBody(Guid Id, string? Path);

public sealed class MakeFeedHandler(OneDoor door, IDbContextFactory<DrainboardDb> factory)
{
    public async Task<(Answer Answer, string? Path)> HandleAsync(Call call, MakeFeedRequest request, CancellationToken stop)
    {
        string? secret = null;
        var answer = await door.ChangeAsync(call, Act.Follow, request, async attempt =>
        {
            var station = StationCode.TryParse(request.Station, out var code) && await attempt.Db.Stations.AnyAsync(row => row.Code == code, attempt.Stop) ? code : (StationCode?)null;
            if (!string.IsNullOrWhiteSpace(request.Station) && station is null)
            {
                return new Refusal("unknown-station", "This station is not known here.");
            }

            if (request.Name.Trim().Length is 0 or > 80)
            {
                return new Refusal("name", "Name it after who subscribes (up to 80 characters), so that you know it when you revoke it.");
            }

            secret = ApiKey.NewSecret();
            attempt.Db.CalendarFeeds.Add(new CalendarFeed(request.Id, request.Name.Trim(), attempt.Actor.Person, station, ApiKey.HashOf(secret), attempt.Now));
            attempt.Record(new Fact(ChainKey.Operator, "calendar.made", request.Id, "A calendar address was made.").With("name", request.Name.Trim()).With("station", station?.Value));
            return attempt.Done(request.Id, () => 0, "Calendar address made.");
        }, stop);
        return (answer, secret is not null && await IsStoredAsync(secret, stop) ? $"/calendar/{secret}.ics" : null);
    }

    // Of two equal wishes at once only one secret was stored.
    private async Task<bool> IsStoredAsync(string secret, CancellationToken stop)
    {
        var hash = ApiKey.HashOf(secret);
        await using var db = await factory.CreateDbContextAsync(stop);
        return await db.CalendarFeeds.AnyAsync(feed => feed.SecretHash == hash, stop);
    }
}
