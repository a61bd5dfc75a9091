namespace Drainboard.Domain.Accounts;

/// <summary>
/// One row of the table of permissions. <see cref="AtOwnStation"/>: the act concerns an aircraft where it stands, so a
/// person needs that station in their scope; otherwise the act is not bound to a place.
/// </summary>
public sealed record Permission(Act Act, ApiScope Scope, bool AtOwnStation, IReadOnlyList<Role> Roles);
