using System.Security.Claims;
using System.Text.Encodings.Web;
using Drainboard.Data;
using Drainboard.Web.Hosting;
using Microsoft.AspNetCore.Authentication;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.Options;

namespace Drainboard.Web.Features.Devices;

/// <summary>Reads a person's ticket together with the secret of the device that it was given to.</summary>
internal sealed class CrewTicketReader(IOptionsMonitor<AuthenticationSchemeOptions> options, ILoggerFactory logger, UrlEncoder encoder, IDbContextFactory<DrainboardDb> factory, ThisDevice device, CrewTickets tickets, SecurityLog log)
    : AuthenticationHandler<AuthenticationSchemeOptions>(options, logger, encoder)
{
    public const string Header = "X-Crew-Ticket";
    public new const string Scheme = "crew-ticket";
    public const string DeviceClaim = "drainboard:device";

    protected override async Task<AuthenticateResult> HandleAuthenticateAsync()
    {
        var stop = Context.RequestAborted;
        if (tickets.Read(Request.Headers[Header].ToString()) is not { } ticket || await device.FindAsync(Context, stop) is not { } here || here.Id != ticket.Device)
        {
            log.Refused("ticket", Context);
            return AuthenticateResult.Fail("This sign-in has run out, or was given at another device.");
        }

        await using var db = await factory.CreateDbContextAsync(stop);
        var person = await db.Users.AsNoTracking().SingleOrDefaultAsync(person => person.Id == ticket.Person, stop);
        if (person is null || CrewTickets.MarkOf(person) != ticket.PinMark)
        {
            log.Refused("ticket", Context);
            return AuthenticateResult.Fail("The PIN was changed since.");
        }

        var identity = new ClaimsIdentity([new(ClaimTypes.NameIdentifier, person.Id.ToString()), new(DeviceClaim, here.Id.ToString())], Scheme);
        return AuthenticateResult.Success(new AuthenticationTicket(new ClaimsPrincipal(identity), Scheme));
    }
}
