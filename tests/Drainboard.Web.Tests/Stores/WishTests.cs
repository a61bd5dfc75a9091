using Drainboard.Web.Features.Door;

namespace Drainboard.Web.Tests.Stores;

public sealed class WishTests
{
    private enum Choice
    {
        First,
        Second,
    }

    /// <summary>A report may wait on a tablet while the program is upgraded: a member that the new version adds, left out, makes no other wish of it.</summary>
    [Fact]
    public void WishText_OfAMemberAddedLater_IsTheSameWhereItIsLeftOut()
    {
        Assert.Equal(OneDoor.WishText(new { Id = 7 }), OneDoor.WishText(new { Id = 7, Added = (string?)null, Kind = Choice.First }));
        Assert.NotEqual(OneDoor.WishText(new { Id = 7 }), OneDoor.WishText(new { Id = 7, Added = (string?)null, Kind = Choice.Second }));
        Assert.NotEqual(OneDoor.WishText(new { Id = 7 }), OneDoor.WishText(new { Id = 7, Passed = (bool?)false }));
    }
}
