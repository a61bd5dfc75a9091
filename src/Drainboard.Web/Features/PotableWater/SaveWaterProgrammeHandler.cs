using Drainboard.Domain;
using Drainboard.Domain.Accounts;
using Drainboard.Domain.PotableWater;
using Drainboard.Domain.Records;
using Drainboard.Web.Features.Door;

namespace Drainboard.Web.Features.PotableWater;

/// <param name="Id">Made by the sender; the idempotency key.</param>
public sealed record SaveWaterProgrammeRequest(Guid Id, WaterTerms Terms);

/// <summary>Makes the next version of a drinking water programme; tails under it follow.</summary>
public sealed class SaveWaterProgrammeHandler(OneDoor door)
{
    public Task<Answer> HandleAsync(Call call, string code, SaveWaterProgrammeRequest request, CancellationToken stop) =>
        door.ChangeAsync(call, Act.ManageWater, new { code, request }, async attempt =>
        {
            var before = await WaterTail.NewestAsync(attempt.Db, code, attempt.Stop);
            if (call.SeenVersion != (before?.Number ?? Call.SawNone))
            {
                return before is null ? new Answer.NotFound($"There is no water programme \"{code}\" to change.")
                    : call.SeenVersion == Call.SawNone ? new Refusal("programme-exists", $"There is a water programme \"{code}\" already ({before.Terms.Title}). Change that one, or choose another code.")
                    : new Answer.Stale(before.Number);
            }

            if (WaterProgramme.Save(code, request.Terms, before, attempt.Actor.Name, attempt.Now, out var made) is { } no)
            {
                return no;
            }

            attempt.Db.Add(made!);
            attempt.Record(new Fact(ChainKey.Operator, "water.programme-saved", request.Id, $"Drinking water programme {made!.Words} was saved.").With("programme", code).With("number", made.Number).With("manual", made.Terms.Manual));
            return attempt.Done(request.Id, () => made.Number, $"Version {made.Number} is saved.");
        }, stop);
}
