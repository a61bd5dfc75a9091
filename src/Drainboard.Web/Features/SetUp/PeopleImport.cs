using Drainboard.Data.Accounts;
using Drainboard.Domain.Accounts;
using Drainboard.Domain.Fleet;

namespace Drainboard.Web.Features.SetUp;

/// <summary>People by user name. An imported account has no password: an administrator gives the first one.</summary>
internal static class PeopleImport
{
    public static void Read(ImportSource source, ImportWork work)
    {
        foreach (var row in source.Rows("people"))
        {
            row.Needed("roles");
            var roles = row.Many("roles").Select(text => row.Choice<Role>("roles", text)).OfType<Role>().Distinct().Order().ToArray();
            var stations = row.Many("stations");
            foreach (var code in stations.Where(code => !StationCode.TryParse(code, out var station) || !work.Stations.ContainsKey(station)))
            {
                row.Fault("stations", $"Station \"{code}\" is neither stored nor in this import.");
            }

            var onlyTail = row.Text("onlyTail");
            if (onlyTail.Length > 0 && !(Registration.TryParse(onlyTail, out var mark) && work.Tails.ContainsKey(mark)))
            {
                row.Fault("onlyTail", $"Tail \"{onlyTail}\" is neither stored nor in this import.");
            }

            var userName = row.Needed("userName", 64);
            var known = userName.ToUpperInvariant();
            var isNew = !work.People.TryGetValue(known, out var person);
            person ??= new Person { Id = work.NewId(), UserName = userName, NormalizedUserName = known, LockoutEnabled = true, SecurityStamp = work.NewId().ToString("N") };
            var before = Content(person);
            var administers = person.Roles.Contains(Role.Administrator) && !person.IsDisabled;
            (person.Name, person.Roles) = (row.Needed("name", 120), roles);
            if (administers && !roles.Contains(Role.Administrator) && !work.People.Values.Any(other => other.Roles.Contains(Role.Administrator) && !other.IsDisabled))
            {
                row.Fault("roles", "This is the last administrator. Make another one first.");
            }

            person.Stations = row.Has("stations") ? stations : person.Stations;
            person.OnlyTail = row.Has("onlyTail") ? onlyTail : person.OnlyTail;
            person.AuthorisationNumber = row.Has("authorisationNumber") ? row.Text("authorisationNumber") : person.AuthorisationNumber;
            person.AuthorisationKind = row.Has("authorisationKind") ? row.Text("authorisationKind") : person.AuthorisationKind;
            person.Organisation = row.Has("organisation") ? row.Text("organisation") : person.Organisation;
            person.AuthorisationLastDay = row.Has("authorisationLastDay") ? row.Day("authorisationLastDay") : person.AuthorisationLastDay;
            person.AuthorisationApproval = row.Has("authorisationApproval") ? row.Text("authorisationApproval") : person.AuthorisationApproval;
            person.AuthorisationLimits = Limits(row, person.AuthorisationLimits);
            if (row.Has("email"))
            {
                var email = row.Text("email", 254);
                if (email.Length > 0 && !System.Net.Mail.MailAddress.TryCreate(email, out _))
                {
                    row.Fault("email", $"\"{email}\" is not an e-mail address.");
                }

                (person.Email, person.NormalizedEmail) = email.Length == 0 ? (null, null) : (email, email.ToUpperInvariant());
            }

            if (isNew)
            {
                work.Add("people", work.People[known] = person);
            }
            else
            {
                var changed = before != Content(person);
                work.Seen("people", changed);
                if (changed)
                {
                    // What was open under the old rights ends.
                    person.SecurityStamp = work.NewId().ToString("N");
                }
            }
        }
    }

    private static AuthorisationLimits Limits(ImportRow row, AuthorisationLimits stored) => new()
    {
        Kinds = row.Has("limitKinds") ? [.. row.Many("limitKinds").Select(text => row.Choice<FixtureKind>("limitKinds", text)).OfType<FixtureKind>().Distinct().Order()] : stored.Kinds,
        Layouts = row.Has("limitLayouts") ? row.Many("limitLayouts") : stored.Layouts,
        Stations = row.Has("limitStations") ? [.. row.Many("limitStations").Where(code => Known(row, code))] : stored.Stations,
        OwnWorkOnly = row.Has("ownWorkOnly") ? row.YesNo("ownWorkOnly", stored.OwnWorkOnly) : stored.OwnWorkOnly,
    };

    private static bool Known(ImportRow row, string code)
    {
        var known = StationCode.TryParse(code, out _);
        if (!known)
        {
            row.Fault("limitStations", $"\"{code}\" is not a station code: four letters.");
        }

        return known;
    }

    private static string Content(Person person) =>
        string.Join('|', person.Name, string.Join(';', person.Roles), string.Join(';', person.Stations), person.OnlyTail, person.AuthorisationNumber, person.AuthorisationKind, person.Organisation, person.AuthorisationLastDay, person.Email, person.AuthorisationApproval, person.AuthorisationLimits.Words);
}
