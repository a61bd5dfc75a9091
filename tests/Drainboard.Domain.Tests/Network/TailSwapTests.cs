using Drainboard.Domain.Fleet;
using Drainboard.Domain.Network;
using Drainboard.Domain.Turns;
using NodaTime;

namespace Drainboard.Domain.Tests.Network;

public sealed class TailSwapTests
{
    private static readonly Instant Noon = Instant.FromUtc(2026, 1, 26, 12, 0);
    private static readonly (TailId A, TailId B) Tails = (new(Guid.Parse("00000000-0000-7000-8000-00000000000a")), new(Guid.Parse("00000000-0000-7000-8000-00000000000b")));

    /// <summary>A stands at QQAA until 13:00, B from 12:30 to 15:00: from there on each flies what the other would have flown.</summary>
    [Fact]
    public void Swap_WhereBothStand_GivesEachTheOthersLine()
    {
        Turn[] before = [Stay(1, Tails.A, "QQAA", -1, 1), Stay(2, Tails.A, "QQBB", 3, 5), Stay(3, Tails.B, "QQCC", -6, -3), Stay(4, Tails.B, "QQAA", 0.5, 3), Stay(5, Tails.B, "QQDD", 6, 9)];
        var swap = TailSwap.Of(before[..2], before[2..], Noon)!;

        Assert.Equal(("QQAA", Noon + Duration.FromHours(1), Noon + Duration.FromHours(3)), (swap.Station.Value, swap.OneLeaves, swap.OtherLeaves));
        Assert.Equal(
            [(1, Tails.A, -1.0, 3.0), (2, Tails.B, 3.0, 5.0), (3, Tails.B, -6.0, -3.0), (4, Tails.B, 0.5, 1.0), (5, Tails.A, 6.0, 9.0)],
            swap.Stays(before).Select(turn => (turn.Id.Value.ToByteArray()[0], turn.Tail, (turn.ArrivesAt - Noon).TotalHours, (turn.DepartsAt - Noon).TotalHours)));
    }

    [Fact]
    public void Swap_OfFlights_MovesThoseAfterTheMeeting()
    {
        Turn[] before = [Stay(1, Tails.A, "QQAA", -1, 1), Stay(4, Tails.B, "QQAA", 0.5, 3)];
        var swap = TailSwap.Of([before[0]], [before[1]], Noon)!;
        Sector[] flights = [Flight(Tails.A, -4, -1), Flight(Tails.A, 0.9, 3), Flight(Tails.B, -2, 0.5), Flight(Tails.B, 3, 6)];

        Assert.Equal([Tails.A, Tails.B, Tails.B, Tails.A], swap.Flights(flights).Select(flight => flight.Tail));
    }

    /// <summary>Less than half an hour together is not meeting.</summary>
    [Fact]
    public void Swap_OfTailsThatNeverStandTogether_IsNone()
    {
        Assert.Null(TailSwap.Of([Stay(1, Tails.A, "QQAA", 0, 1)], [Stay(2, Tails.B, "QQAA", 0.6, 2)], Noon));
        Assert.Null(TailSwap.Of([Stay(1, Tails.A, "QQAA", 0, 1)], [Stay(2, Tails.B, "QQBB", 0, 1)], Noon));
        Assert.Null(TailSwap.Of([Stay(1, Tails.A, "QQAA", 0, 1)], [Stay(2, Tails.A, "QQAA", 0, 1)], Noon));
    }

    private static Turn Stay(byte number, TailId tail, string station, double from, double to) =>
        new(new TurnId(new Guid(number, 0, 0, new byte[8])), $"T{number}", tail, StationCode.Parse(station), new TurnTimes("1", Noon + Duration.FromHours(from), Noon + Duration.FromHours(to), null, null));

    private static Sector Flight(TailId tail, double off, double on) =>
        new(new SectorId(NewId.At(Noon)), "S", tail, new SectorPlan(StationCode.Parse("QQAA"), StationCode.Parse("QQBB"), Noon + Duration.FromHours(off), Noon + Duration.FromHours(on), 60, false));
}
