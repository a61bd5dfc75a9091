using Drainboard.Web.Shell;

namespace Drainboard.Web.Features.Board;

/// <summary>A stretch of the Board's one sentence; warm only for a leak or for time that is nearly out.</summary>
public sealed record LeadPart(string Words, bool Bold = false, bool Warm = false);

/// <summary>The sentence at the top: how many tails and when the next departs, what is open, what is urgent, what is new.</summary>
public static class BoardLead
{
    public static IEnumerable<LeadPart> Of(BoardView board)
    {
        var tails = board.Cards.Count;
        yield return new LeadPart($"{Say(tails)} {(tails == 1 ? "tail" : "tails")} here or due");
        if (board.NextToGo is { } next)
        {
            yield return new LeadPart("; next departs ");
            yield return new LeadPart(Times.At(next.Turn.DepartsAt, board.Zone), Bold: true);
        }

        yield return new LeadPart($". {Say(board.Open)} open{(board.NotReleased > 0 ? $", {Times.Number(board.NotReleased)} done and not released" : "")}. ");
        if (board.Leaks > 0)
        {
            yield return new LeadPart($"{Say(board.Leaks)} leaking. ", Warm: true);
        }

        if (board.Lapsed > 0)
        {
            yield return new LeadPart($"{Say(board.Lapsed)} {(board.Lapsed == 1 ? "clock has" : "clocks have")} lapsed. ", Warm: true);
        }

        if (board.LapseSoon > 0)
        {
            yield return new LeadPart($"{Say(board.LapseSoon)} {(board.LapseSoon == 1 ? "clock ends" : "clocks end")} within a day. ", Warm: true);
        }

        yield return new LeadPart($"{Say(board.Reports)} new {(board.Reports == 1 ? "report" : "reports")}.");
    }

    private static string Say(int count) => Times.Capital(Times.Number(count));
}
