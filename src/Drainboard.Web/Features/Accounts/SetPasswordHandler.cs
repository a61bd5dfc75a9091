using Drainboard.Data.Accounts;
using Drainboard.Domain;
using Drainboard.Domain.Accounts;
using Drainboard.Domain.Records;
using Drainboard.Web.Features.Door;
using Microsoft.AspNetCore.Identity;
using Microsoft.EntityFrameworkCore;

namespace Drainboard.Web.Features.Accounts;

/// <param name="Current">The password until now.</param>
public sealed record SetPasswordRequest(Guid Id, string Current, string Password);

/// <summary>A person's own password, set by themselves; every browser of theirs is signed out by it.</summary>
public sealed class SetPasswordHandler(OneDoor door, SigningCodes codes, IPasswordHasher<Person> hasher)
{
    public Task<Answer> HandleAsync(Call call, SetPasswordRequest request, CancellationToken stop) =>
        door.ChangeAsync(call, Act.SetPassword, new { request.Id }, attempt => SetAsync(attempt, request), stop);

    private async Task<Answer> SetAsync(Attempt attempt, SetPasswordRequest request)
    {
        if (await codes.WhyNotPasswordAsync(attempt.Actor, request.Current, "The password is as it was.", attempt.Stop) is { } no)
        {
            return no;
        }

        var person = await attempt.Db.Users.SingleAsync(person => person.Id == attempt.Actor.Person.Value, attempt.Stop);
        var operatorName = await attempt.Db.Installations.Select(installation => installation.OperatorName).SingleAsync(attempt.Stop);
        if (Passwords.WhyNotChosen(request.Password, person.UserName!, person.Name, operatorName) is { } simple)
        {
            return simple;
        }

        if (request.Password == request.Current)
        {
            return new Refusal("password-same", "This is the password that you have. Take another one.");
        }

        if (person.SigningCodeHash is { } code && hasher.VerifyHashedPassword(person, code, request.Password) != PasswordVerificationResult.Failed)
        {
            return new Refusal("password-is-signing-code", "The signing code is a second secret: choose another password than that.");
        }

        person.ChoosePassword(hasher.HashPassword(person, request.Password), NewId.At(attempt.Now));
        await SignIns.EndInAsync(attempt, person.Id);
        attempt.Record(new Fact(ChainKey.Operator, "person.password", person.Id, "The password was set by the person."));
        return attempt.Done(person.Id, () => person.Version, "Password set.");
    }
}
