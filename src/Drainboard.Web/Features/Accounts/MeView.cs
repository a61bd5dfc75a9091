using Drainboard.Domain.Accounts;

namespace Drainboard.Web.Features.Accounts;

public sealed record MeView(Guid Person, string Name, IReadOnlyList<Role> Roles, string Stations, IReadOnlyList<Act> May)
{
    public static MeView Of(Actor actor) => new(
        actor.Person.Value,
        actor.Name,
        [.. actor.Roles.Order()],
        actor.Stations.ToString(),
        [.. Enum.GetValues<Act>().Where(act => Permissions.WhyNot(actor, act) is null)]);
}
