using Drainboard.Data.Accounts;
using Drainboard.Domain.Accounts;
using Drainboard.Domain.Records;
using Drainboard.Web.Features.Accounts;
using Drainboard.Web.Features.Door;
using Microsoft.AspNetCore.Identity;
using Microsoft.EntityFrameworkCore;

namespace Drainboard.Web.Features.Devices;

/// <param name="Password">The account's password: a PIN is set only by somebody who has it.</param>
public sealed record SetPinRequest(Guid Id, string Password, string Pin);

public sealed class SetPinHandler(OneDoor door, SigningCodes codes, IPasswordHasher<Person> hasher)
{
    public Task<Answer> HandleAsync(Call call, SetPinRequest request, CancellationToken stop) =>
        door.ChangeAsync(call, Act.SetPin, new { request.Id }, async attempt =>
        {
            if ((await codes.WhyNotPasswordAsync(attempt.Actor, request.Password, "The PIN is as it was.", attempt.Stop) ?? Pins.WhyNotChosen(request.Pin)) is { } no)
            {
                return no;
            }

            var person = await attempt.Db.Users.SingleAsync(person => person.Id == attempt.Actor.Person.Value, attempt.Stop);
            if (person.WhyNoSecretYet is { } given)
            {
                return given;
            }

            person.PinHash = hasher.HashPassword(person, request.Pin);
            attempt.Record(new Fact(ChainKey.Operator, "person.pin", person.Id, "A PIN for shared devices was set by the person."));
            return attempt.Done(person.Id, () => person.Version, "PIN set.");
        }, stop);
}
