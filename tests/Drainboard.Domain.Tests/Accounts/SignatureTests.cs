using Drainboard.Domain.Accounts;
using Drainboard.Domain.Fleet;
using Drainboard.Domain.Records;
using Drainboard.Domain.Tests.Situations;
using NodaTime;

namespace Drainboard.Domain.Tests.Accounts;

/// <summary>14 CFR 43.9(a)(4) and 145.A.50: number and kind belong to a signature, and an authorisation is used within its limits only.</summary>
public sealed class SignatureTests
{
    [Theory]
    [InlineData("", "licence", "no-authorisation-number")]
    [InlineData("C-1", "", "no-authorisation-kind")]
    public void WhyNot_WithoutNumberOrKind_IsRefused(string number, string kind, string code) =>
        Assert.Equal(code, WhyNot(new Authorisation(number, kind, "Test", null)));

    [Fact]
    public void WhyNot_OnTheLastDay_IsGood_AndTheDayAfterIsNot()
    {
        var day = Cabin.Now.InUtc().Date;
        Assert.Null(WhyNot(new Authorisation("C-1", "licence", "Test", day)));
        Assert.Equal("authorisation-expired", WhyNot(new Authorisation("C-1", "licence", "Test", day.PlusDays(-1))));
    }

    [Theory]
    [InlineData("kinds", "authorisation-scope")]
    [InlineData("layouts", "authorisation-tails")]
    [InlineData("stations", "authorisation-station")]
    [InlineData("own", "own-work-only")]
    public void WhyNot_BeyondItsLimits_SaysWhichOne(string limit, string code)
    {
        var limits = limit switch
        {
            "kinds" => AuthorisationLimits.None with { Kinds = [FixtureKind.Toilet] },
            "layouts" => AuthorisationLimits.None with { Layouts = ["X9"] },
            "stations" => AuthorisationLimits.None with { Stations = ["QQBB"] },
            _ => AuthorisationLimits.None with { OwnWorkOnly = true },
        };

        Assert.Equal(code, WhyNot(new Authorisation("C-1", "licence", "Test", null) { Limits = limits }));
    }

    [Fact]
    public void WhyNot_WithinEveryLimit_MaySign() =>
        Assert.Null(WhyNot(new Authorisation("C-1", "licence", "Test", null) { Limits = new AuthorisationLimits { Kinds = [FixtureKind.GalleySink], Layouts = ["t1"], Stations = ["QQAA"] } }));

    [Fact]
    public void WhyNot_ContractTechnicianWithoutTheirOrganisationsApproval_IsRefused()
    {
        var held = new Authorisation("X-1", "contractor authorisation", "Other", null);
        Assert.Equal("no-approval", WhyNot(held, Role.ContractTechnician));
        Assert.Null(WhyNot(held with { Approval = "QQ.145.0009" }, Role.ContractTechnician));
    }

    private static string? WhyNot(Authorisation held, Role role = Role.CertifyingTechnician) =>
        Signature.WhyNot(Cabin.Certifier with { Authorisation = held, Roles = new HashSet<Role> { role } }, Cabin.Place, Cabin.Now)?.Code;
}
