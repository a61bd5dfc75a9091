using Drainboard.Domain;
using Drainboard.Domain.Accounts;
using Drainboard.Domain.Records;
using Drainboard.Web.Features.Door;
using Drainboard.Web.Features.Fleet;

namespace Drainboard.Web.Features.PotableWater;

/// <param name="Id">Made by the sender; the idempotency key.</param>
/// <param name="Programme">The programme's code.</param>
public sealed record KeepWaterByRequest(Guid Id, string Programme);

/// <summary>Puts a tail under a drinking water programme.</summary>
public sealed class KeepWaterByHandler(OneDoor door, LayoutCatalog layouts)
{
    public Task<Answer> HandleAsync(Call call, string registration, KeepWaterByRequest request, CancellationToken stop) =>
        door.ChangeAsync(call, Act.ManageWater, new { registration, request }, async attempt =>
        {
            var (found, trouble) = await WaterTail.FindAsync(attempt, layouts, registration, Act.ManageWater);
            if (found is null)
            {
                return trouble!;
            }

            if (await WaterTail.NewestAsync(attempt.Db, request.Programme, attempt.Stop) is not { } programme)
            {
                return new Refusal("no-such-programme", $"There is no water programme \"{request.Programme}\". Save it on Set-up first.");
            }

            found.Tail.KeepWaterBy(programme.Code);
            attempt.Record(new Fact(ChainKey.For(found.Tail.Id), "water.programme-chosen", found.Tail.Id.Value, $"Drinking water is kept by {programme.Words}.").With("programme", programme.Code).With("number", programme.Number));
            return attempt.Done(request.Id, () => found.Tail.Version, $"{found.Tail.Registration} is kept by {programme.Terms.Title}.");
        }, stop);
}
