using Drainboard.Domain.Fleet;
using Drainboard.Domain.Handovers;
using Drainboard.Domain.Tests.Situations;
using NodaTime;

namespace Drainboard.Domain.Tests.Handovers;

public sealed class HandoverTests
{
    private static readonly HandoverContent Content = new([], [new HandoverLine("QQ-TSA", null, "Sink", "Open.")], [], [], [], []);

    [Fact]
    public void Sign_WhatWasSeen_IsKeptAndTakenOverByAnother()
    {
        Cabin.Done(Sign(Content.Hash(), out var made));
        Assert.Equal("own-handover", Cabin.Refused(made!.TakeOver(Cabin.Technician, Cabin.Now)).Code);
        Cabin.Done(made.TakeOver(Cabin.Certifier, Cabin.Now + Duration.FromMinutes(5)));
        Assert.IsType<Decision.AlreadySo>(made.TakeOver(Cabin.Certifier, Cabin.Now));
        Assert.Equal("taken-over", Cabin.Refused(made.TakeOver(Cabin.Controller, Cabin.Now)).Code);
    }

    [Fact]
    public void Sign_WhatHasChangedSince_IsRefused() =>
        Assert.Equal("handover-changed", Cabin.Refused(Sign(new HandoverContent([], [], [], [], [], []).Hash(), out _)).Code);

    private static Decision Sign(string hash, out Handover? made) =>
        Handover.Sign(new HandoverId(Cabin.NewId()), StationCode.Parse("QQAA"), Cabin.Now - Duration.FromHours(12), Content, hash, "Mind the stand.", Cabin.Technician, Cabin.Now, out made);
}
