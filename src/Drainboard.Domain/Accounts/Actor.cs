using Drainboard.Domain.Fleet;

namespace Drainboard.Domain.Accounts;

/// <summary>
/// Who is asking: a person with their roles, stations and authorisation as they stand at this call. <see cref="OnlyTail"/>
/// narrows a guest to one aircraft. <see cref="KeyScopes"/> is null for a person at a page, and set when an API key acts for them or they gave a PIN at a shared device.
/// </summary>
public sealed record Actor(
    PersonId Person,
    string Name,
    IReadOnlySet<Role> Roles,
    StationScope Stations,
    Registration? OnlyTail = null,
    Authorisation? Authorisation = null,
    IReadOnlySet<ApiScope>? KeyScopes = null)
{
    /// <summary>The enrolled device they are at; null at a device of their own.</summary>
    public ActingDevice? Device { get; init; }

    /// <summary>One of their roles signs in with a passkey, and they came by password alone: until they come with one, they may set their password and nothing else.</summary>
    public bool NeedsPasskey { get; init; }

    /// <summary>The program itself: loading the demo, importing at the command line.</summary>
    public static Actor Installation { get; } = new(
        new PersonId(new Guid("00000000-0000-7000-8000-000000000001")),
        "this installation",
        Enum.GetValues<Role>().ToHashSet(),
        StationScope.Every);
}
