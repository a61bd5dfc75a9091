using Drainboard.Data;
using Drainboard.Data.Accounts;
using Drainboard.Domain;
using Drainboard.Domain.Accounts;
using Drainboard.Domain.Fleet;
using Drainboard.Domain.Records;
using Drainboard.Web.Features.Door;
using Microsoft.AspNetCore.Identity;
using Microsoft.EntityFrameworkCore;
using NodaTime;

namespace Drainboard.Web.Features.Accounts;

/// <summary>An account as an administrator enters it. The approval and the limits of the authorisation are left out to keep the old ones.</summary>
/// <param name="GivePassword">A password is drawn and shown once; a new account is given one in any case. Signing code and PIN are void by it, and what was signed in.</param>
/// <param name="VoidPasskeys">For a lost phone, or an account that somebody else may have been in. A password that is given takes none away; who takes them away gives a new password too.</param>
/// <param name="OwnPassword">The administrator's own: who sits down at an open page changes nobody's way in. An API key, for a program, needs none.</param>
/// <param name="VoidPin">The PIN for shared devices opens nothing from now on, nor does what was signed in with it: for a lost tablet or a PIN that others know. The person sets a new one with their password.</param>
public sealed record SavePersonRequest(Guid Id, string Name, IReadOnlyList<Role> Roles, IReadOnlyList<string>? Stations = null, string? OnlyTail = null, string? AuthorisationNumber = null, string? AuthorisationKind = null, string? Organisation = null, LocalDate? AuthorisationLastDay = null, bool GivePassword = false, bool IsDisabled = false, string? Email = null, string? AuthorisationApproval = null, AuthorisationLimits? AuthorisationLimits = null, bool VoidPin = false, bool VoidPasskeys = false, string? OwnPassword = null);

public sealed record SavedPersonBody(Guid Id, long Version, string Words, string? Password);

public sealed class SavePersonHandler(OneDoor door, SigningCodes codes, IDbContextFactory<DrainboardDb> factory, IPasswordHasher<Person> hasher)
{
    // Enough for what stands beside a signature (our choice).
    private const int LongestAuthorisation = 80;

    /// <summary>The password is null where none was given, and when the same wish is answered a second time: it is shown once.</summary>
    public async Task<(Answer Answer, string? Password)> HandleAsync(Call call, string userName, SavePersonRequest request, CancellationToken stop)
    {
        var password = request.GivePassword || call.SeenVersion == Call.SawNone ? Passwords.Draw() : null;
        var hash = password is null ? null : hasher.HashPassword(new Person(), password);
        var answer = await door.ChangeAsync(call, Act.ManagePeople, new { userName, request = request with { OwnPassword = null } }, attempt => SaveAsync(attempt, call, userName.Trim(), request, hash), stop);
        await using var db = await factory.CreateDbContextAsync(stop);
        return (answer, answer is Answer.Done && hash is not null && await db.Users.AnyAsync(person => person.PasswordHash == hash, stop) ? password : null);
    }

    private async Task<Answer> SaveAsync(Attempt attempt, Call call, string userName, SavePersonRequest request, string? hash)
    {
        if (await codes.WhyNotConfirmedAsync(attempt.Actor, request.OwnPassword, "The account is as it was.", attempt.Stop) is { } unconfirmed)
        {
            return unconfirmed;
        }

        var known = userName.ToUpperInvariant();
        var person = await attempt.Db.Users.SingleOrDefaultAsync(person => person.NormalizedUserName == known, attempt.Stop);
        if (call.SeenVersion != (person?.Version ?? Call.SawNone))
        {
            return person is null ? new Answer.NotFound($"There is no account \"{userName}\" to change.")
                : call.SeenVersion == Call.SawNone ? new Refusal("user-name-taken", $"There is an account \"{userName}\" already ({person.Name}). Change that one, or choose another user name.")
                : new Answer.Stale(person.Version);
        }

        if (person is not null && person.Roles.Contains(Role.Administrator) && (request.IsDisabled || !request.Roles.Contains(Role.Administrator)) && !await AnotherAdministratorAsync(attempt, person.Id))
        {
            return new Refusal("last-administrator", "This is the last administrator. Make another one first.");
        }

        if (request.GivePassword && person?.Id == attempt.Actor.Person.Value)
        {
            return new Refusal("own-account", "Set your own password on the page with your name (Me). One is given to others only.");
        }

        if (request.VoidPasskeys && hash is null)
        {
            return new Refusal("password-too", "Give a new password too: with the old one somebody else could add the next passkey.");
        }

        if (WhyNot(userName, request) is { } no)
        {
            return no;
        }

        var unknown = await UnknownStationAsync(attempt, [.. request.Stations ?? [], .. request.AuthorisationLimits?.Stations ?? []]);
        if (unknown is not null)
        {
            return new Refusal("station", $"No station {unknown} is known here. Import it first.");
        }

        var layouts = await attempt.Db.Layouts.AsNoTracking().Select(layout => layout.Code).Distinct().ToArrayAsync(attempt.Stop);
        if (request.AuthorisationLimits?.Layouts.FirstOrDefault(code => !layouts.Contains(code.Trim(), StringComparer.OrdinalIgnoreCase)) is { } nowhere)
        {
            return new Refusal("layout", $"No layout \"{nowhere}\" is known here. Known: {string.Join(", ", layouts.Order(StringComparer.Ordinal))}.");
        }

        var isNew = person is null;
        person ??= new Person { Id = request.Id, UserName = userName, NormalizedUserName = known, LockoutEnabled = true, ConcurrencyStamp = request.Id.ToString() };
        if (isNew)
        {
            attempt.Db.Users.Add(person);
        }

        Fill(person, request);
        if (hash is not null)
        {
            person.GivePassword(hash, NewId.At(attempt.Now), attempt.Now);
            attempt.Db.SecretTries.RemoveRange(await attempt.Db.SecretTries.Where(row => row.Whose == person.Id && row.Kind == SecretKind.Password).ToArrayAsync(attempt.Stop));
        }

        if (request.VoidPasskeys)
        {
            attempt.Db.UserPasskeys.RemoveRange(await attempt.Db.UserPasskeys.Where(passkey => passkey.UserId == person.Id).ToArrayAsync(attempt.Stop));
        }

        if (request.VoidPin)
        {
            person.PinHash = null;
        }

        // A change of rights or password ends what was signed in before it.
        person.SecurityStamp = NewId.At(attempt.Now).ToString("N");
        await SignIns.EndInAsync(attempt, person.Id);
        attempt.Record(new Fact(ChainKey.Operator, isNew ? "person.added" : "person.changed", person.Id, isNew ? "An account was added." : hash is not null ? "An account was changed: a password was given; signing code and PIN are void." : "An account was changed.")
            .With("roles", string.Join(",", request.Roles.Order())).With("stations", string.Join(",", person.Stations)).With("disabled", request.IsDisabled).With("pinVoided", request.VoidPin || hash is not null).With("passwordGiven", hash is not null).With("passkeysVoided", request.VoidPasskeys)
            .With("authorisation", person.AuthorisationNumber).With("authorisationKind", person.AuthorisationKind).With("approval", person.AuthorisationApproval).With("lastDay", person.AuthorisationLastDay?.ToString("uuuu-MM-dd", System.Globalization.CultureInfo.InvariantCulture)).With("limits", person.AuthorisationLimits.Words));
        return attempt.Done(person.Id, () => person.Version, isNew ? "Account added." : "Account saved.");
    }

    // Roles are one JSON column; the accounts of one operator are few.
    private static async Task<bool> AnotherAdministratorAsync(Attempt attempt, Guid but) =>
        (await attempt.Db.Users.AsNoTracking().Where(other => other.Id != but && !other.IsDisabled).ToArrayAsync(attempt.Stop)).Any(other => other.Roles.Contains(Role.Administrator));

    private static async Task<string?> UnknownStationAsync(Attempt attempt, IReadOnlyList<string> codes)
    {
        var known = await attempt.Db.Stations.AsNoTracking().Select(station => station.Code).ToArrayAsync(attempt.Stop);
        return codes.FirstOrDefault(code => !known.Contains(StationCode.Parse(code)));
    }

    private static void Fill(Person person, SavePersonRequest request)
    {
        person.Name = request.Name.Trim();
        person.Roles = [.. request.Roles.Distinct().Order()];
        person.Stations = [.. (request.Stations ?? []).Select(code => StationCode.Parse(code).Value)];
        person.OnlyTail = string.IsNullOrWhiteSpace(request.OnlyTail) ? "" : Registration.Parse(request.OnlyTail).Value;
        person.AuthorisationNumber = request.AuthorisationNumber?.Trim() ?? "";
        person.AuthorisationKind = request.AuthorisationKind?.Trim() ?? "";
        person.Organisation = request.Organisation?.Trim() ?? "";
        person.AuthorisationLastDay = request.AuthorisationLastDay;
        person.AuthorisationApproval = request.AuthorisationApproval?.Trim() ?? person.AuthorisationApproval;
        person.AuthorisationLimits = request.AuthorisationLimits is { } limits ? limits with { Kinds = [.. limits.Kinds.Distinct().Order()], Layouts = [.. limits.Layouts.Select(code => code.Trim())], Stations = [.. limits.Stations.Select(code => StationCode.Parse(code).Value)] } : person.AuthorisationLimits;
        person.IsDisabled = request.IsDisabled;
        (person.Email, person.NormalizedEmail) = string.IsNullOrWhiteSpace(request.Email) ? (null, null) : (request.Email.Trim(), request.Email.Trim().ToUpperInvariant());
    }

    private static Refusal? WhyNot(string userName, SavePersonRequest request) =>
        userName.Length is 0 or > 64
            ? new Refusal("user-name", "Enter a user name of up to 64 characters, for example a staff number.")
        : request.Name.Trim().Length is 0 or > 120
            ? new Refusal("name", "Enter the person's name as it should stand beside a signature (up to 120 characters).")
        : new[] { request.AuthorisationNumber, request.AuthorisationKind, request.Organisation, request.AuthorisationApproval }.Any(text => text?.Trim().Length > LongestAuthorisation)
            ? new Refusal("authorisation", $"Number, kind, organisation and approval of an authorisation have up to {LongestAuthorisation} characters each.")
        : request.Roles.Count == 0
            ? new Refusal("roles", "Choose at least one role. To keep somebody out, close the account instead.")
        : (request.Stations ?? []).FirstOrDefault(code => !StationCode.TryParse(code, out _)) is { } bad
            ? new Refusal("station", $"\"{bad}\" is not a station code: four letters.")
        : request.AuthorisationLimits?.Stations.FirstOrDefault(code => !StationCode.TryParse(code, out _)) is { } unknown
            ? new Refusal("station", $"\"{unknown}\" is not a station code: four letters.")
        : !string.IsNullOrWhiteSpace(request.OnlyTail) && !Registration.TryParse(request.OnlyTail, out _)
            ? new Refusal("tail", $"\"{request.OnlyTail}\" is not a registration.")
        : !string.IsNullOrWhiteSpace(request.Email) && !System.Net.Mail.MailAddress.TryCreate(request.Email.Trim(), out _)
            ? new Refusal("email", $"\"{request.Email}\" is not an e-mail address.")
        : null;
}
