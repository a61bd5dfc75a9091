using Drainboard.Data;
using Drainboard.Data.Accounts;
using Drainboard.Domain;
using Drainboard.Domain.Accounts;
using Drainboard.Domain.Records;
using Microsoft.AspNetCore.Identity;
using Microsoft.EntityFrameworkCore;
using NodaTime;

namespace Drainboard.Web.Features.Accounts;

/// <summary>Makes the first administrator through the one-time link; the link is spent in the same transaction.</summary>
public sealed class FirstAdministratorHandler(IDbContextFactory<DrainboardDb> factory, IPasswordHasher<Person> hasher, IClock clock)
{
    public async Task<Refusal?> HandleAsync(string secret, string userName, string name, string operatorName, string password, CancellationToken stop)
    {
        await using var db = await factory.CreateDbContextAsync(stop);
        var installation = await db.Installations.SingleAsync(stop);
        if (!installation.OpensSetUp(ApiKey.HashOf(secret)))
        {
            return new Refusal("link-spent", "This link, or another one, has been used, or newer ones have taken its place. Restart the service to get a new one while there is no administrator.");
        }

        if (userName.Trim().Length == 0 || name.Trim().Length == 0 || operatorName.Trim().Length == 0)
        {
            return new Refusal("empty", "Enter the operator's name, your name and a user name.");
        }

        if (Passwords.WhyNotChosen(password, userName, name, operatorName) is { } no)
        {
            return no;
        }

        var now = clock.GetCurrentInstant();
        var person = new Person { Id = NewId.At(now), UserName = userName.Trim(), NormalizedUserName = userName.Trim().ToUpperInvariant(), Name = name.Trim(), Roles = [Role.Administrator], LockoutEnabled = true, SecurityStamp = NewId.At(now).ToString("N") };
        person.PasswordHash = hasher.HashPassword(person, password);
        db.Users.Add(person);
        installation.FinishSetUp();
        installation.Change(operatorName, installation.Mode, installation.ApprovalReference, installation.PolicyName, installation.RepeatRule);
        var actor = person.AsActor();
        await db.SaveAsync(new Writing(actor, now, [new Deed(new Fact(ChainKey.Operator, "person.first", person.Id, "The first administrator was made through the one-time link."), actor, now)]), stop);
        return null;
    }
}
