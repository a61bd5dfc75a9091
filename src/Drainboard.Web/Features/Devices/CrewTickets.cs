using System.Security.Cryptography;
using System.Text;
using Drainboard.Data.Accounts;
using Microsoft.AspNetCore.DataProtection;
using NodaTime;

namespace Drainboard.Web.Features.Devices;

/// <summary>What a ticket says: who gave their PIN, at which device, until when it is good, and under which PIN.</summary>
public sealed record CrewTicket(Guid Person, Guid Device, Instant Until, string PinMark);

/// <summary>
/// What an enrolled device gets when a person gives their PIN. It is good only from that device (whose own secret goes with it), only while
/// that PIN stands, and only for looking and reporting. So the reports of one person are sent under their name when the next has signed in.
/// </summary>
public sealed class CrewTickets(IDataProtectionProvider protection, IClock clock)
{
    /// <summary>A report may wait on board for days; after this the person signs in again, and it goes then (our choice).</summary>
    public static readonly Duration Life = Duration.FromDays(14);

    private readonly IDataProtector _protector = protection.CreateProtector("Drainboard.CrewTicket.v1");

    public (string Ticket, Instant Until) Issue(Person person, Device device)
    {
        var until = clock.GetCurrentInstant() + Life;
        return (_protector.Protect($"{person.Id:N} {device.Id:N} {until.ToUnixTimeSeconds()} {MarkOf(person)}"), until);
    }

    /// <summary>Null where it is not one of ours or has run out.</summary>
    public CrewTicket? Read(string ticket)
    {
        try
        {
            var parts = _protector.Unprotect(ticket).Split(' ');
            var read = new CrewTicket(Guid.ParseExact(parts[0], "N"), Guid.ParseExact(parts[1], "N"), Instant.FromUnixTimeSeconds(long.Parse(parts[2], System.Globalization.CultureInfo.InvariantCulture)), parts[3]);
            return clock.GetCurrentInstant() < read.Until ? read : null;
        }
        catch (CryptographicException)
        {
            return null;
        }
    }

    /// <summary>Changes with the PIN, and tells nothing of it.</summary>
    public static string MarkOf(Person person) => Convert.ToHexStringLower(SHA256.HashData(Encoding.UTF8.GetBytes(person.PinHash ?? "")))[..16];
}
