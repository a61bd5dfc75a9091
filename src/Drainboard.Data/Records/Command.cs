using Drainboard.Domain.Accounts;
using NodaTime;

namespace Drainboard.Data.Records;

/// <summary>
/// A wish that was carried out, by the id that its sender made: the same wish sent again gets the same answer, and another
/// wish under the same id is refused. Kept for ever.
/// </summary>
public sealed class Command
{
    private Command()
    {
    }

    public Command(Guid id, PersonId person, string payloadHash, string answer, Instant at) =>
        (Id, Person, PayloadHash, Answer, At) = (id, person, payloadHash, answer, at);

    public Guid Id { get; private set; }

    public PersonId Person { get; private set; }

    public string PayloadHash { get; private set; } = "";

    public string Answer { get; private set; } = "";

    public Instant At { get; private set; }
}
