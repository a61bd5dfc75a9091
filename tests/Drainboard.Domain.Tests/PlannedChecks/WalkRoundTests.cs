using Drainboard.Domain.Fleet;
using Drainboard.Domain.PlannedChecks;
using Drainboard.Domain.Tests.Situations;
using Drainboard.Domain.TurnFit;
using Drainboard.Domain.Turns;

namespace Drainboard.Domain.Tests.PlannedChecks;

/// <summary>Planned checks in the time of a stay.</summary>
public sealed class WalkRoundTests
{
    private static readonly Instant Now = Cabin.Now;
    private static readonly Duration Paperwork = Duration.FromMinutes(5);

    /// <summary>
    /// A turn of 40 minutes by the usual windows: outside is free from minute 4 to 10 (then the trucks, 10 to 22) and 22 to 32; the last 5 are kept for papers
    /// and boarding, so the lavatories are free from 10 to 28. Worked by hand.
    /// </summary>
    [Fact]
    public void AShortTurn_TakesTheUrgentFirst_AndSaysWhatDoesNotFit()
    {
        var visit = StayOf(40);
        var slots = WalkRound.Pack([Due("A", CabinPlace.Outside, 5), Due("B", CabinPlace.Lavatory, 10), Due("C", CabinPlace.Outside, 9), Due("D", CabinPlace.Outside, 11), Due("E", CabinPlace.Lavatory, 2)], visit, Paperwork, Now);

        Assert.Equal([(4, 9), (10, 20), (22, 31), null, (20, 22)], slots.Select(slot => slot.Fits ? ((int, int)?)(Minute(slot.From), Minute(slot.To)) : null));
    }

    /// <summary>Many random stays: no two at once, each inside a window of its place and before the papers; and what was left out has no free time that is long enough in what the more urgent left.</summary>
    [Fact]
    public void Packed_NeverOverlaps_AndLeavesNothingOutThatFits()
    {
        var random = new Random(38);
        for (var trial = 0; trial < 400; trial++)
        {
            var visit = StayOf(random.Next(20, 240));
            var begins = Now + Duration.FromMinutes(random.Next(0, 30));
            CheckDue[] dues = [.. Enumerable.Range(0, random.Next(1, 14)).Select(index => Due($"{index}", (CabinPlace)random.Next(3), random.Next(1, 25)))];
            var slots = WalkRound.Pack(dues, visit, Paperwork, begins);

            Assert.Equal(dues, slots.Select(slot => slot.Due));
            var busy = new bool[400];
            foreach (var slot in slots)
            {
                var open = Enumerable.Range(0, busy.Length).Select(minute => !busy[minute] && IsFree(visit, slot.Due.Check.Terms.Place, minute, begins)).ToArray();
                if (slot.Fits)
                {
                    var (from, to) = (Minute(slot.From), Minute(slot.To));
                    Assert.Equal(slot.Due.Check.Terms.Minutes, to - from);
                    Assert.All(Enumerable.Range(from, to - from), minute => Assert.True(open[minute]));
                    Array.Fill(busy, true, from, to - from);
                }
                else
                {
                    Assert.True(Longest(open) < slot.Due.Check.Terms.Minutes);
                }
            }
        }
    }

    private static bool IsFree(Visit visit, CabinPlace place, int minute, Instant begins)
    {
        var (from, to) = (Now + Duration.FromMinutes(minute), Now + Duration.FromMinutes(minute + 1));
        return from >= begins && to <= visit.DepartsAt - Paperwork && visit.Workable(place).Any(window => window.From <= from && to <= window.To);
    }

    private static int Longest(bool[] open)
    {
        var (longest, run) = (0, 0);
        foreach (var minute in open)
        {
            run = minute ? run + 1 : 0;
            longest = Math.Max(longest, run);
        }

        return longest;
    }

    private static int Minute(Instant? at) => (int)(at!.Value - Now).TotalMinutes;

    private static Visit StayOf(int minutes) => Visit.Of(
        new Turn(default, "T", default, StationCode.Parse("QQAA"), new TurnTimes("1", Now, Now + Duration.FromMinutes(minutes), null, null)),
        new Station(StationCode.Parse("QQAA"), "First", "Etc/UTC", [], LocalTime.Midnight, LocalTime.Midnight), DateTimeZone.Utc, Now, FitTerms.Usual);

    private static CheckDue Due(string title, CabinPlace place, int minutes) =>
        new(PlannedCheck.Save("c", new CheckTerms(title, "Look", null, place, 0, minutes, "LC-1"), false, null, "x", Now, out var made) is null ? made! : throw new InvalidOperationException(), null, null, Now, CheckReason.EveryStay);
}
