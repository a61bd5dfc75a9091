using Drainboard.Domain;
using Drainboard.Domain.Accounts;
using Drainboard.Domain.Fleet;
using Drainboard.Domain.Records;
using Drainboard.Domain.TurnFit;
using Drainboard.Domain.Turns;
using Drainboard.Web.Features.Door;
using Drainboard.Web.Hosting;
using Microsoft.EntityFrameworkCore;
using NodaTime;

namespace Drainboard.Web.Features.Turns;

/// <param name="Windows">What is known of this stay's own windows (catering, cleaning, a truck); left out: those known before stay.</param>
/// <summary>A turn by its outside key; the same values again change nothing. A feed sends no version and its newest word stands; whoever sends one is told when it is stale.</summary>
public sealed record SaveTurnRequest(string Tail, string Station, Instant EstimatedArrival, Instant EstimatedDeparture, string? Stand = null, Instant? OnBlocks = null, Instant? OffBlocks = null, IReadOnlyList<AccessBlock>? Windows = null);

public sealed class SaveTurnHandler(OneDoor door)
{
    public Task<Answer> HandleAsync(Call call, string key, SaveTurnRequest request, CancellationToken stop) =>
        door.ChangeAsync(call, Act.ChangeTurns, new { key, request }, async attempt =>
        {
            var tail = Registration.TryParse(request.Tail, out var mark) ? await attempt.Db.Tails.AsNoTracking().SingleOrDefaultAsync(row => row.Registration == mark, attempt.Stop) : null;
            if (tail is null || !StationCode.TryParse(request.Station, out var station) || !await attempt.Db.Stations.AnyAsync(row => row.Code == station, attempt.Stop))
            {
                return new Refusal("unknown-tail-or-station", "Tail and station must be known here. Import them first.");
            }

            var times = new TurnTimes(request.Stand?.Trim() ?? "", MicrosecondClock.Cut(request.EstimatedArrival), MicrosecondClock.Cut(request.EstimatedDeparture), request.OnBlocks, request.OffBlocks) { Windows = request.Windows is null ? null : [.. request.Windows.Select(window => window with { From = MicrosecondClock.Cut(window.From), To = MicrosecondClock.Cut(window.To) })] };
            if (key.Length > 64 || times.WhyNot() is not null)
            {
                return times.WhyNot() ?? new Refusal("key", "The outside key has up to 64 characters.");
            }

            var turn = await attempt.Db.Turns.SingleOrDefaultAsync(turn => turn.Key == key, attempt.Stop);
            if (new[] { station, turn?.Station ?? station }.FirstOrDefault(code => !attempt.Actor.Stations.Covers(code)) is { Value.Length: > 0 } other)
            {
                return new Answer.NotAllowed(new Refusal("not-your-station", $"This turn is at {other}; your account covers {attempt.Actor.Stations}."));
            }

            if (call.SeenVersion is { } seen && seen != (turn?.Version ?? Call.SawNone))
            {
                return new Answer.Stale(turn?.Version ?? 0);
            }

            var (isNew, returnsBefore) = (turn is null, turn?.Returns ?? 0);
            turn ??= new Turn(new TurnId(NewId.At(attempt.Now)), key, tail.Id, station, times);
            if (isNew)
            {
                attempt.Db.Turns.Add(turn);
            }

            if (isNew || turn.Set(tail.Id, station, times))
            {
                attempt.Record(new Fact(ChainKey.For(station), "turn.saved", turn.Id.Value, turn.Returns > returnsBefore ? $"{mark} returned to the gate at {station}: the turn is open again." : $"Turn of {mark} at {station} saved.").With("key", key).With("arrives", turn.ArrivesAt).With("departs", turn.DepartsAt));
            }

            return attempt.Done(turn.Id.Value, () => turn.Version, "Turn saved.");
        }, stop);
}
