using Drainboard.Domain;
using Drainboard.Domain.Accounts;
using Drainboard.Domain.PotableWater;
using Drainboard.Web.Features.Accounts;
using Drainboard.Web.Features.Door;
using Drainboard.Web.Hosting;
using NodaTime;

namespace Drainboard.Web.Features.PotableWater;

/// <param name="Way">i, ii or iii of 40 CFR 141.803(c)(3).</param>
public sealed record ChooseWaterWayRequest(string Way);

/// <summary>Chooses one of the ways that the rule leaves after a coliform-positive routine sample.</summary>
public sealed class ChooseWaterWayHandler(WaterCaseDoor door)
{
    public Task<Answer> HandleAsync(Call call, string registration, Guid id, ChooseWaterWayRequest request, CancellationToken stop) =>
        door.ChangeAsync(call, Act.JudgeWater, registration, id, request, (attempt, one) => Task.FromResult(one.Choose(request.Way, attempt.Now)), stop);
}

/// <param name="What">A restriction, a notice or a report.</param>
public sealed record DoWaterStepRequest(WaterAct What, Instant At);

/// <summary>Says that something a case asks for is done.</summary>
public sealed class DoWaterStepHandler(WaterCaseDoor door)
{
    public Task<Answer> HandleAsync(Call call, string registration, Guid id, DoWaterStepRequest request, CancellationToken stop) =>
        door.ChangeAsync(call, Act.WorkOnWater, registration, id, request, (attempt, one) => Task.FromResult(one.Do(request.What, MicrosecondClock.Cut(request.At), attempt.Actor, attempt.Now)), stop);
}

/// <param name="SigningCode">The signer's own second secret.</param>
public sealed record LiftWaterRequest(string? SigningCode = null);

/// <summary>Gives access to the water back: signed, and refused until the rule's condition holds.</summary>
public sealed class LiftWaterHandler(WaterCaseDoor door, SigningCodes codes)
{
    public Task<Answer> HandleAsync(Call call, string registration, Guid id, LiftWaterRequest request, CancellationToken stop) =>
        door.ChangeAsync(call, Act.LiftWater, registration, id, request with { SigningCode = null }, async (attempt, one) =>
        {
            var disinfected = await WaterTail.DisinfectedAsync(attempt.Db, one.Tail, attempt.Now, attempt.Stop);
            var followUp = await WaterTail.FollowUpAsync(attempt.Db, one, attempt.Stop);
            return one.WhyNotLift(disinfected, followUp) is { } no ? no
                : await codes.WhyNotAsync(attempt.Actor, request.SigningCode, attempt.Stop) is { } unsigned ? unsigned
                : one.Lift(disinfected, followUp, attempt.Actor, attempt.Now);
        }, stop);
}
