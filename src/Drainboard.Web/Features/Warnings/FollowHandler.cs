using Drainboard.Domain;
using Drainboard.Domain.Accounts;
using Drainboard.Domain.Fleet;
using Drainboard.Domain.Records;
using Drainboard.Domain.Warnings;
using Drainboard.Web.Features.Door;
using Microsoft.EntityFrameworkCore;

namespace Drainboard.Web.Features.Warnings;

/// <param name="Tail">One tail; or <paramref name="Station"/>; or neither: the whole fleet.</param>
/// <param name="LeadHours">Whole hours before the lapse of a clock; 0 is the lapse itself; none: clocks are not followed.</param>
/// <param name="Reports">Told of each report as it comes in.</param>
public sealed record FollowRequest(Guid Id, IReadOnlyList<int> LeadHours, bool ByMail = false, string? Tail = null, string? Station = null, bool Reports = false);

public sealed class FollowHandler(OneDoor door)
{
    private const int MostFollows = 50;

    public Task<Answer> HandleAsync(Call call, FollowRequest request, CancellationToken stop) =>
        door.ChangeAsync(call, Act.Follow, request, async attempt =>
        {
            var tail = Registration.TryParse(request.Tail, out var mark) ? await attempt.Db.Tails.AsNoTracking().SingleOrDefaultAsync(row => row.Registration == mark, attempt.Stop) : null;
            var station = StationCode.TryParse(request.Station, out var code) && await attempt.Db.Stations.AnyAsync(row => row.Code == code, attempt.Stop) ? code : (StationCode?)null;
            if ((!string.IsNullOrWhiteSpace(request.Tail) && tail is null) || (!string.IsNullOrWhiteSpace(request.Station) && station is null))
            {
                return new Refusal("unknown-tail-or-station", "Tail or station is not known here.");
            }

            var me = attempt.Actor.Person;
            if (Follow.WhyNot(tail?.Id, station, request.LeadHours, request.Reports) is { } no)
            {
                return no;
            }

            if (await attempt.Db.Follows.CountAsync(row => row.Person == me, attempt.Stop) >= MostFollows)
            {
                return new Refusal("too-many", $"You follow {MostFollows} things. End one first, or follow the whole fleet.");
            }

            var address = await attempt.Db.Users.Where(person => person.Id == me.Value).Select(person => person.Email).SingleOrDefaultAsync(attempt.Stop);
            if (request.ByMail && string.IsNullOrEmpty(address))
            {
                return new Refusal("no-address", "There is no e-mail address on your account. An administrator enters it on Set-up; until then you are warned in the program.");
            }

            attempt.Db.Follows.Add(new Follow(request.Id, me, tail?.Id, station, request.LeadHours, request.Reports, request.ByMail, attempt.Now));
            attempt.Record(new Fact(ChainKey.Operator, "follow.made", request.Id, request.LeadHours.Count == 0 ? "Reports are followed." : request.Reports ? "Clocks and reports are followed." : "Clocks are followed.").With("tail", tail?.Registration.Value).With("station", station?.Value));
            return attempt.Done(request.Id, () => 0, "You are warned from now on.");
        }, stop);
}
