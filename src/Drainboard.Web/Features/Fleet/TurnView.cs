using Drainboard.Domain.Turns;
using NodaTime;

namespace Drainboard.Web.Features.Fleet;

/// <summary>A turn as the ground bar shows it: times, how far it has run, and what is left before departure.</summary>
public sealed record TurnView(string Station, string Stand, Instant ArrivesAt, Instant DepartsAt, bool OnBlocks, bool OnGround, bool Overdue, double PartGone, int MinutesLeft)
{
    public static TurnView Of(Turn turn, Instant now)
    {
        var whole = (turn.DepartsAt - turn.ArrivesAt).TotalSeconds;
        var gone = whole <= 0 ? 1 : Math.Clamp((now - turn.ArrivesAt).TotalSeconds / whole, 0, 1);
        return new TurnView(turn.Station.Value, turn.Stand, turn.ArrivesAt, turn.DepartsAt, turn.OnBlocks is not null, now >= turn.ArrivesAt && !turn.IsOver(now), turn.IsOverdue(now), gone, (int)Math.Max(0, Math.Floor((turn.DepartsAt - Instant.Max(now, turn.ArrivesAt)).TotalMinutes)));
    }
}
