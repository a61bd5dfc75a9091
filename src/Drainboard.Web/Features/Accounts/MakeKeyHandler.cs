using Drainboard.Data;
using Drainboard.Data.Accounts;
using Drainboard.Domain;
using Drainboard.Domain.Accounts;
using Drainboard.Domain.Records;
using Drainboard.Web.Features.Door;
using Microsoft.EntityFrameworkCore;
using NodaTime;

namespace Drainboard.Web.Features.Accounts;

/// <param name="ExpiresAt">At most <see cref="ApiKey.Longest"/> from now; so long where nothing is said.</param>
/// <param name="OwnPassword">The administrator's own; a key that makes a key needs none.</param>
public sealed record MakeKeyRequest(Guid Id, string Name, string UserName, IReadOnlyList<ApiScope> Scopes, Instant? ExpiresAt = null, string? OwnPassword = null);

public sealed record NewKeyBody(Guid Id, string? Secret);

public sealed class MakeKeyHandler(OneDoor door, SigningCodes codes, IDbContextFactory<DrainboardDb> factory)
{
    /// <summary>The secret is null when the same wish is answered a second time: it is shown once.</summary>
    public async Task<(Answer Answer, string? Secret)> HandleAsync(Call call, MakeKeyRequest request, CancellationToken stop)
    {
        string? secret = null;
        var answer = await door.ChangeAsync(call, Act.ManageKeys, request with { OwnPassword = null }, async attempt =>
        {
            if (await codes.WhyNotConfirmedAsync(attempt.Actor, request.OwnPassword, "No key was made.", attempt.Stop) is { } unconfirmed)
            {
                return unconfirmed;
            }

            var known = request.UserName.Trim().ToUpperInvariant();
            var person = await attempt.Db.Users.SingleOrDefaultAsync(person => person.NormalizedUserName == known, attempt.Stop);
            if (WhyNot(request, person, attempt.Now) is { } no)
            {
                return no;
            }

            secret = ApiKey.NewSecret();
            attempt.Db.ApiKeys.Add(new ApiKey(request.Id, request.Name.Trim(), new PersonId(person!.Id), request.Scopes, attempt.Now, request.ExpiresAt ?? attempt.Now + ApiKey.Longest, secret));
            attempt.Record(new Fact(ChainKey.Operator, "key.made", request.Id, "An API key was made.").With("name", request.Name.Trim()).With("scopes", string.Join(",", request.Scopes.Order())).With("person", person.Id));
            return attempt.Done(request.Id, () => 0, "Key made.");
        }, stop);
        return (answer, secret is not null && await IsStoredAsync(secret, stop) ? secret : null);
    }

    // Of two equal wishes at once only one secret was stored.
    private async Task<bool> IsStoredAsync(string secret, CancellationToken stop)
    {
        var hash = ApiKey.HashOf(secret);
        await using var db = await factory.CreateDbContextAsync(stop);
        return await db.ApiKeys.AnyAsync(key => key.SecretHash == hash, stop);
    }

    private static Refusal? WhyNot(MakeKeyRequest request, Person? person, Instant now) =>
        request.Name.Trim().Length is 0 or > 80
            ? new Refusal("name", "Name the key after the program that uses it (up to 80 characters).")
        : person is null
            ? new Refusal("person", $"There is no account \"{request.UserName}\". A key acts for one person or one service account.")
        : request.Scopes.Count == 0
            ? new Refusal("scopes", "Choose at least one scope. Give no more than the program needs.")
        : request.ExpiresAt <= now
            ? new Refusal("expiry", "The expiry lies in the past.")
        : request.ExpiresAt > now + ApiKey.Longest
            ? new Refusal("expiry", $"A key is good for {ApiKey.Longest.TotalDays:0} days at most. Make the next one before it ends, and revoke this one then.")
        : null;
}
