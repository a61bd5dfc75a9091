using Drainboard.Domain.Accounts;
using Drainboard.Domain.Fleet;
using Drainboard.Domain.Turns;
using NodaTime;

namespace Drainboard.Domain.Departure;

/// <summary>
/// That a person has read the sheet of one departure as it then stood. <see cref="SheetHash"/> is the SHA-256 of what it said: a sheet that
/// changes, or a return to the gate, asks for it again.
/// </summary>
public sealed class SheetAcknowledgement
{
    private SheetAcknowledgement()
    {
    }

    public SheetAcknowledgement(Guid id, TailId tail, TurnId turn, SheetSigner signer, PersonId person, string name, string sheetHash, Instant at) =>
        (Id, Tail, Turn, Signer, Person, Name, SheetHash, At) = (id, tail, turn, signer, person, name, sheetHash, at);

    public Guid Id { get; private set; }

    public TailId Tail { get; private set; }

    public TurnId Turn { get; private set; }

    public SheetSigner Signer { get; private set; }

    public PersonId Person { get; private set; }

    public string Name { get; private set; } = "";

    public string SheetHash { get; private set; } = "";

    public Instant At { get; private set; }
}
