using Drainboard.Data.Accounts;
using Drainboard.Domain;
using Drainboard.Domain.Accounts;
using Drainboard.Domain.Records;
using Drainboard.Web.Features.Door;
using Microsoft.AspNetCore.Identity;
using Microsoft.EntityFrameworkCore;

namespace Drainboard.Web.Features.Accounts;

/// <param name="Password">The account's password: a signing code is set only by somebody who has both.</param>
public sealed record SetSigningCodeRequest(Guid Id, string Password, string Code);

public sealed class SetSigningCodeHandler(OneDoor door, SigningCodes codes, IPasswordHasher<Person> hasher)
{
    public Task<Answer> HandleAsync(Call call, SetSigningCodeRequest request, CancellationToken stop) =>
        door.ChangeAsync(call, Act.SetSigningCode, new { request.Id }, attempt => SetAsync(attempt, request), stop);

    private async Task<Answer> SetAsync(Attempt attempt, SetSigningCodeRequest request)
    {
        if ((await codes.WhyNotPasswordAsync(attempt.Actor, request.Password, "The signing code is as it was.", attempt.Stop) ?? SigningCodes.WhyNotChosen(request.Code)) is { } no)
        {
            return no;
        }

        var person = await attempt.Db.Users.SingleAsync(person => person.Id == attempt.Actor.Person.Value, attempt.Stop);
        if (person.WhyNoSecretYet is { } given)
        {
            return given;
        }

        if (hasher.VerifyHashedPassword(person, person.PasswordHash!, request.Code) != PasswordVerificationResult.Failed)
        {
            return new Refusal("signing-code-is-password", "The signing code is a second secret: choose another one than your password.");
        }

        person.SigningCodeHash = hasher.HashPassword(person, request.Code);
        attempt.Record(new Fact(ChainKey.Operator, "person.signing-code", person.Id, "A signing code was set by the person."));
        return attempt.Done(person.Id, () => person.Version, "Signing code set.");
    }
}
