using Drainboard.Domain.Records;
using Drainboard.Web.Features.Board;
using Drainboard.Web.Features.Fleet;

namespace Drainboard.Web.Tests.Components;

public sealed class BoardLeadTests
{
    private static readonly Instant Now = Instant.FromUtc(2026, 1, 26, 10, 0);

    [Fact]
    public void Lead_OfAQuietBoard_IsOnePlainSentence() =>
        Assert.Equal("One tail here or due; next departs 11:00. No open. No new reports.", Say(new BoardView("QQAA", "Strand", "Etc/UTC", Now, LogMode.BesideLog, [new BoardCard("QQ-TSA", "T1", new TurnView("QQAA", "1", Now, Now + Duration.FromHours(1), true, true, false, 0, 60), [], [], [], null)])));

    [Fact]
    public void Lead_OfAnEmptyBoard_SaysSo() =>
        Assert.Equal("No tails here or due. No open. No new reports.", Say(new BoardView("QQAA", "Strand", "Etc/UTC", Now, LogMode.BesideLog, [])));

    private static string Say(BoardView board) => string.Concat(BoardLead.Of(board).Select(part => part.Words));
}
