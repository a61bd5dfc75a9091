using Drainboard.Domain.Accounts;
using Drainboard.Domain.Fleet;

namespace Drainboard.Domain.Tests.Accounts;

public sealed class PermissionsTests
{
    /// <summary>Who came by password alone, where a role needs a passkey, may set the password and nothing else (ASVS 6.3.3).</summary>
    [Fact]
    public void NeedingAPasskey_OnlyThePasswordMayBeSet()
    {
        var actor = Actor.Installation with { NeedsPasskey = true };
        Assert.Equal([Act.SetPassword], Enum.GetValues<Act>().Where(act => Permissions.WhyNot(actor, act) is null));
        Assert.All(Enum.GetValues<Act>(), act => Assert.Null(Permissions.WhyNot(Actor.Installation, act)));
    }

    [Fact]
    public void Table_HasOneRowForEveryAct() =>
        Assert.Equal(Enum.GetValues<Act>(), Permissions.Table.Select(row => row.Act).Order());

    /// <summary>M.A.403(b) and 145.A.50: only authorised certifying staff decide what may be deferred, and release.</summary>
    [Theory]
    [InlineData(Act.Release)]
    [InlineData(Act.CertifyDeferral)]
    public void Table_CertifyingActs_AreForCertifyingStaffAlone(Act act) =>
        Assert.Equal([Role.CertifyingTechnician, Role.ContractTechnician], Permissions.For(act).Roles);

    [Fact]
    public void WhyNot_KeyWithoutTheScope_IsRefusedWhateverTheRole()
    {
        var actor = new Actor(default, "A", new HashSet<Role> { Role.CertifyingTechnician }, StationScope.Every, KeyScopes: new HashSet<ApiScope> { ApiScope.Read });

        Assert.Equal("key-scope", Permissions.WhyNot(actor, Act.Release)?.Code);
        Assert.Null(Permissions.WhyNot(actor, Act.Look));
    }

    [Fact]
    public void WhyNot_TailElsewhere_IsRefusedForActsAtAStationOnly()
    {
        var actor = new Actor(default, "A", new HashSet<Role> { Role.Technician, Role.MaintenanceController }, StationScope.Only(StationCode.Parse("QQAA")));
        var (tail, elsewhere) = (Registration.Parse("QQ-TSA"), new[] { StationCode.Parse("QQBB") });

        Assert.Equal("not-your-station", Permissions.WhyNot(actor, Act.RecordWork, tail, elsewhere)?.Code);
        Assert.Null(Permissions.WhyNot(actor, Act.AuthoriseDeferral, tail, elsewhere));
        Assert.Null(Permissions.WhyNot(actor, Act.RecordWork, tail, []));
    }

    [Fact]
    public void WhyNot_GuestForAnotherTail_IsRefused()
    {
        var guest = new Actor(default, "A", new HashSet<Role> { Role.ContractTechnician }, StationScope.Every, Registration.Parse("QQ-TSA"));

        Assert.Equal("not-your-tail", Permissions.WhyNot(guest, Act.RecordWork, Registration.Parse("QQ-TSB"), [])?.Code);
    }
}
