using Drainboard.Domain;
using Drainboard.Domain.Accounts;
using Drainboard.Domain.PotableWater;
using Drainboard.Web.Features.Door;
using Drainboard.Web.Features.Fleet;
using Drainboard.Web.Hosting;
using Microsoft.EntityFrameworkCore;
using NodaTime;

namespace Drainboard.Web.Features.PotableWater;

/// <param name="Id">Made on the device; the idempotency key.</param>
/// <param name="Item">For a serviced item: its key in the programme.</param>
/// <param name="Corrects">For a deficiency put right: its id.</param>
/// <param name="Words">The work order or log page, or what was found deficient.</param>
public sealed record RecordWaterDeedRequest(Guid Id, WaterDeedKind Kind, Instant At, string Words = "", string? Item = null, Guid? Corrects = null);

/// <summary>Records that something was done for a tail's drinking water.</summary>
public sealed class RecordWaterDeedHandler(OneDoor door, LayoutCatalog layouts)
{
    public Task<Answer> HandleAsync(Call call, string registration, RecordWaterDeedRequest request, CancellationToken stop) =>
        door.ChangeAsync(call, Act.WorkOnWater, new { registration, request }, async attempt =>
        {
            var (found, trouble) = await WaterTail.FindAsync(attempt, layouts, registration, Act.WorkOnWater);
            if (found is null)
            {
                return trouble!;
            }

            if (found.WhyNotKept is { } unkept)
            {
                return unkept;
            }

            WaterDeed? corrects = null;
            if (request.Corrects is { } id)
            {
                var deficiency = new WaterDeedId(id);
                corrects = await attempt.Db.WaterDeeds.AsNoTracking().SingleOrDefaultAsync(deed => deed.Id == deficiency && deed.Tail == found.Tail.Id && deed.Kind == WaterDeedKind.DeficiencyFound && deed.VoidedAt == null, attempt.Stop);
                if (await attempt.Db.WaterDeeds.AnyAsync(deed => deed.Corrects == deficiency && deed.VoidedAt == null, attempt.Stop))
                {
                    return new Refusal("corrected-already", "That deficiency was put right already.");
                }
            }

            var item = found.Programme!.Terms.Items.FirstOrDefault(item => item.Key == request.Item);
            switch (WaterDeed.Record(new WaterDeedId(request.Id), found.Tail, request.Kind, MicrosecondClock.Cut(request.At), item, corrects, request.Words, attempt.Actor, attempt.Now, out var made))
            {
                case Decision.Refused refused: return refused.Refusal;
                case Decision.Done done:
                    attempt.Db.Add(made!);
                    attempt.Record(done.Fact);
                    return attempt.Done(request.Id, () => found.Tail.Version, done.Fact.Words);
                default: throw new InvalidOperationException("A deed is recorded or refused.");
            }
        }, stop);
}
