using Drainboard.Domain;
using Drainboard.Domain.Accounts;
using Drainboard.Domain.Fleet;
using Microsoft.AspNetCore.Identity;
using NodaTime;

namespace Drainboard.Data.Accounts;

/// <summary>A person's account: ASP.NET Core Identity keeps the password and the lockout, we keep what they may do and sign with.</summary>
public sealed class Person : IdentityUser<Guid>
{
    public string Name { get; set; } = "";

    public IReadOnlyList<Role> Roles { get; set; } = [];

    /// <summary>Station codes; empty means every station.</summary>
    public IReadOnlyList<string> Stations { get; set; } = [];

    /// <summary>The one tail a guest is let in for; empty for staff.</summary>
    public string OnlyTail { get; set; } = "";

    public string AuthorisationNumber { get; set; } = "";

    public string AuthorisationKind { get; set; } = "";

    public string Organisation { get; set; } = "";

    public LocalDate? AuthorisationLastDay { get; set; }

    /// <summary>The reference of the organisation's approval.</summary>
    public string AuthorisationApproval { get; set; } = "";

    public AuthorisationLimits AuthorisationLimits { get; set; } = AuthorisationLimits.None;

    /// <summary>The hash of the signing code, the person's second secret; null while none is set.</summary>
    public string? SigningCodeHash { get; set; }

    /// <summary>When an administrator gave the password; null once the person has set one of their own.</summary>
    public Instant? PasswordGivenAt { get; private set; }

    /// <summary>Why no other secret may be set now: who gave the password could set it, and keep it.</summary>
    public Refusal? WhyNoSecretYet => PasswordGivenAt is null ? null : new Refusal("password-given", "Set a password of your own first: somebody else gave you this one, and knows it.");

    /// <summary>The hash of the PIN for shared devices; null while none is set.</summary>
    public string? PinHash { get; set; }

    /// <summary>Offered on the sign-in page of a demo database, and nowhere else.</summary>
    public bool IsDemo { get; set; }

    public bool IsDisabled { get; set; }

    public long Version { get; private set; }

    /// <summary>
    /// An administrator gives a password: it opens the account until the person has set their own. The other secrets go, so that whoever gave it
    /// cannot sign as the person unseen.
    /// </summary>
    public void GivePassword(string hash, Guid stamp, Instant at)
    {
        (PasswordHash, PasswordGivenAt, SecurityStamp) = (hash, at, stamp.ToString("N"));
        (SigningCodeHash, PinHash) = (null, null);
    }

    /// <summary>The person's own.</summary>
    public void ChoosePassword(string hash, Guid stamp) => (PasswordHash, PasswordGivenAt, SecurityStamp) = (hash, null, stamp.ToString("N"));

    /// <summary>A guest for one tail is not let in at a device that stays on board of another.</summary>
    public bool MayUse(Device device) => OnlyTail.Length == 0 || device.OnlyTail.Length == 0 || OnlyTail == device.OnlyTail;

    /// <summary>The person at an enrolled device: for looking and reporting only, at its station where it has one, and on board of one tail for that one.</summary>
    public Actor AsActorAt(Device device)
    {
        var actor = AsActor(new HashSet<ApiScope> { ApiScope.Read, ApiScope.Report });
        return actor with { Stations = device.Station is { } station ? StationScope.Only(station) : actor.Stations, OnlyTail = device.OnlyTail.Length == 0 ? actor.OnlyTail : Registration.Parse(device.OnlyTail), Device = device.AsActing() };
    }

    public Actor AsActor(IReadOnlySet<ApiScope>? keyScopes = null) => new(
        new PersonId(Id),
        Name,
        IsDisabled ? new HashSet<Role>() : Roles.ToHashSet(),
        Stations.Count == 0 ? StationScope.Every : StationScope.Only(Stations.Select(StationCode.Parse)),
        OnlyTail.Length == 0 ? null : Registration.Parse(OnlyTail),
        AuthorisationNumber.Length == 0 ? null : new Authorisation(AuthorisationNumber, AuthorisationKind, Organisation, AuthorisationLastDay) { Approval = AuthorisationApproval, Limits = AuthorisationLimits },
        keyScopes);
}
