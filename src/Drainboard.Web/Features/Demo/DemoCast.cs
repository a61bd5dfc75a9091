using Drainboard.Data.Accounts;
using Drainboard.Domain.Accounts;

namespace Drainboard.Web.Features.Demo;

/// <summary>The invented people by role.</summary>
internal sealed class DemoCast(IEnumerable<Person> people)
{
    private readonly ILookup<Role, Actor> _byRole = people.Where(person => person.IsDemo).SelectMany(person => person.Roles.Select(role => (role, actor: person.AsActor()))).ToLookup(one => one.role, one => one.actor);

    public Actor Any(Role role, Dice dice) => dice.Pick([.. _byRole[role]]);
}
