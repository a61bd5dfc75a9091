using Drainboard.Data;
using Drainboard.Domain;
using Drainboard.Domain.Accounts;
using Drainboard.Web.Features.Accounts;
using Drainboard.Web.Features.Door;
using Drainboard.Web.Hosting;
using Microsoft.AspNetCore.Http.HttpResults;
using Microsoft.EntityFrameworkCore;
using NodaTime;

namespace Drainboard.Web.Features.Devices;

/// <summary>Who is there: the enrolled device, if this is one, and the person signed in with a password, if one is.</summary>
public sealed record ThisDeviceView(string Operator, bool IsDemo, DeviceView? Device, DevicePerson? Person);

/// <param name="OnlyTail">The one aircraft that they are let in for; null for staff.</param>
public sealed record DevicePerson(Guid Id, string Name, bool MayReport, string? OnlyTail);

public sealed record EnrolRequest(string Code);

public sealed record PinSignInRequest(string UserName, string Pin);

public sealed record PinSignInView(string Ticket, Instant Until, DevicePerson Person);

internal static class DevicesApi
{
    public static void MapDevices(this IEndpointRouteBuilder api)
    {
        var group = api.MapGroup("").WithTags("Devices");
        group.MapGet("/devices", List).Needs(Act.ManageDevices).WithSummary("Shared devices, without their secrets");
        group.MapPost("/devices", Make).Needs(Act.ManageDevices).ProducesProblem(422).WithSummary("Make a device to be enrolled, or let one be enrolled anew; its code is in this answer and never again");
        group.MapPost("/devices/{id:guid}/revocation", Revoke).Needs(Act.ManageDevices).ProducesProblem(404).WithSummary("Revoke a device for good");
        group.MapPut("/me/pin", SetPin).Needs(Act.SetPin).ProducesProblem(422).OpenToGuests().WithSummary("Set the own PIN for shared devices; needs the account's password");

        // The device itself is who asks: nobody has signed in yet.
        group.MapGet("/devices/this", This).AllowAnonymous().WithSummary("Whether the asker is an enrolled device, and who is signed in with a password");
        group.MapPost("/devices/this/enrolment", Enrol).AllowAnonymous().ProducesProblem(422).WithSummary("Enrol the asker with a code that works once; its secret comes as a cookie that no script reads");
        group.MapPost("/devices/this/sign-in", SignIn).AllowAnonymous().ProducesProblem(401).ProducesProblem(422).WithSummary("A person gives their PIN at an enrolled device; the ticket goes into X-Crew-Ticket and opens looking and reporting, from this device only");
    }

    private static async Task<Ok<IReadOnlyList<DeviceView>>> List(DevicesQuery query, CancellationToken stop) => TypedResults.Ok(await query.ReadAsync(stop));

    private static async Task<Results<Ok<NewDeviceBody>, ProblemHttpResult>> Make(MakeDeviceRequest request, MakeDeviceHandler handler, HttpContext http, CancellationToken stop)
    {
        var (answer, code) = await handler.HandleAsync(http.Creating(request.Id), request, stop);
        return answer is Answer.Done done ? TypedResults.Ok(new NewDeviceBody(done.Id, code)) : (ProblemHttpResult)answer.ToHttp(http).Result;
    }

    private static async Task<ChangeResult> Revoke(Guid id, RevokeDeviceHandler handler, HttpContext http, IClock clock, CancellationToken stop) =>
        (await handler.HandleAsync(http.Creating(NewId.At(clock.GetCurrentInstant())), id, stop)).ToHttp(http);

    private static async Task<ChangeResult> SetPin(SetPinRequest request, SetPinHandler handler, HttpContext http, CancellationToken stop) =>
        (await handler.HandleAsync(http.Creating(request.Id), request, stop)).ToHttp(http);

    private static async Task<Ok<ThisDeviceView>> This(ThisDevice devices, ActorAccess access, IDbContextFactory<DrainboardDb> factory, HttpContext http, CancellationToken stop)
    {
        var device = await devices.FindAsync(http, stop);
        if (device is not null)
        {
            ThisDevice.RememberAgain(http);
        }

        await using var db = await factory.CreateDbContextAsync(stop);
        var installation = await db.Installations.AsNoTracking().SingleAsync(stop);
        var person = await access.FindAsync(http.User, stop);
        return TypedResults.Ok(new ThisDeviceView(installation.OperatorName, installation.IsDemo, device is null ? null : DeviceView.Of(device), person is null ? null : Of(person)));
    }

    private static async Task<Results<Ok<DeviceView>, ProblemHttpResult>> Enrol(EnrolRequest request, EnrolDeviceHandler handler, IDbContextFactory<DrainboardDb> factory, HttpContext http, CancellationToken stop)
    {
        var (answer, secret) = await handler.HandleAsync(request.Code, stop);
        if (answer is not Answer.Done done)
        {
            return (ProblemHttpResult)answer.ToHttp(http).Result;
        }

        ThisDevice.Remember(http, secret);
        await using var db = await factory.CreateDbContextAsync(stop);
        return TypedResults.Ok(DeviceView.Of(await db.Devices.AsNoTracking().SingleAsync(device => device.Id == done.Id, stop)));
    }

    private static async Task<Results<Ok<PinSignInView>, ProblemHttpResult>> SignIn(PinSignInRequest request, ThisDevice devices, Pins pins, CrewTickets tickets, SecurityLog log, HttpContext http, CancellationToken stop)
    {
        if (await devices.FindAsync(http, stop) is not { } device)
        {
            return AnswerHttp.Problem(StatusCodes.Status401Unauthorized, "Not enrolled", "This device is not enrolled, or was revoked. An administrator makes a code on Set-up, Devices. What waits on it is kept.", "not-enrolled");
        }

        var (person, no) = await pins.FindAsync(device, request.UserName, request.Pin, stop);
        if (person is null)
        {
            log.SignInRefused(null, no!.Code, http);
            return AnswerHttp.Problem(StatusCodes.Status422UnprocessableEntity, "Refused", no.Words, no.Code);
        }

        if (!person.MayUse(device))
        {
            log.SignInRefused(person.Id, "not-your-tail", http);
            return AnswerHttp.Problem(StatusCodes.Status422UnprocessableEntity, "Refused", $"Your access is for {person.OnlyTail} only, and this device stays on board of {device.OnlyTail}.", "not-your-tail");
        }

        log.SignedInAt(device.Id, person.Id, http);
        var (ticket, until) = tickets.Issue(person, device);
        return TypedResults.Ok(new PinSignInView(ticket, until, Of(person.AsActor())));
    }

    private static DevicePerson Of(Actor actor) => new(actor.Person.Value, actor.Name, Permissions.WhyNot(actor, Act.Report) is null, actor.OnlyTail?.Value);
}
