using Drainboard.Domain.Tanks;
using Drainboard.Web.Features.Door;
using Drainboard.Web.Hosting;
using NodaTime;

namespace Drainboard.Web.Features.Tanks;

/// <param name="Id">Made on the device; the idempotency key.</param>
/// <param name="Full">The tank is full now.</param>
/// <param name="Source">The watering point, truck or cart.</param>
/// <param name="Leak">Where a leak or a streak was seen; left out: none.</param>
public sealed record UpliftRequest(Guid Id, Instant At, int Litres, bool Full, string Source, bool CapClosed, bool DoorClosed, string Leak = "");

/// <summary>Records potable water taken on.</summary>
public sealed class UpliftHandler(TankDoor door)
{
    public Task<Answer> HandleAsync(Call call, string registration, UpliftRequest request, CancellationToken stop) =>
        door.RecordAsync(call, registration, request.Id, request, (attempt, tail, tanks) =>
            (PotableUplift.Record(new TankServiceId(request.Id), tail, MicrosecondClock.Cut(request.At), request.Litres, request.Full, request.Source, new ServicePanelCheck(request.CapClosed, request.DoorClosed, request.Leak), tanks?.PotableLitres, attempt.Actor, attempt.Now, out var made), made), stop);
}

/// <param name="Id">Made on the device; the idempotency key.</param>
/// <param name="LitresOut">By the truck's gauge; left out: nobody read one.</param>
/// <param name="Leak">Where a leak or a streak was seen; left out: none.</param>
public sealed record WasteRequest(Guid Id, Instant At, int PrechargeLitres, bool CapClosed, bool DoorClosed, int? LitresOut = null, string Leak = "");

/// <summary>Records that a waste tank was emptied and pre-charged.</summary>
public sealed class WasteHandler(TankDoor door)
{
    public Task<Answer> HandleAsync(Call call, string registration, WasteRequest request, CancellationToken stop) =>
        door.RecordAsync(call, registration, request.Id, request, (attempt, tail, tanks) =>
            (WasteService.Record(new TankServiceId(request.Id), tail, MicrosecondClock.Cut(request.At), request.LitresOut, request.PrechargeLitres, new ServicePanelCheck(request.CapClosed, request.DoorClosed, request.Leak), tanks?.WasteLitres, attempt.Actor, attempt.Now, out var made), made), stop);
}
